//go:build unix

package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
)

// cachedKit is a kit of two boxes, of which everything that is kept in a cache is kept.
const cachedKit = `kit: Two boxes
scale: "1:32"
meshes: parts
parts: {base: {printed: resin}, post: {printed: resin}}
joins: [{fit: post, to: base, with: ca}]
printers: {one: {process: resin, volume: [130, 80, 160]}}
`

// Whatever stands in the place of a cache, or of a file in it, the commands that use it say the
// same as ever: nothing is waited for or believed.
func TestSpecialFilesInCaches(t *testing.T) {
	dir, warm := t.TempDir(), filepath.Join(t.TempDir(), "warm")
	put := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "parts"), 0o700); err != nil {
		t.Fatal(err)
	}
	put("kit.yaml", []byte(cachedKit))
	for name, box := range map[string][]mesh.Triangle{"base": meshtest.Box([3]float64{0, 0, 0}, [3]float64{40, 30, 5}), "post": meshtest.Box([3]float64{10, 10, 5}, [3]float64{20, 20, 30})} {
		var b bytes.Buffer
		if err := stl.Write(&b, box); err != nil {
			t.Fatal(err)
		}
		put("parts/"+name+".stl", b.Bytes())
	}
	commands := [][]string{{"check", "kit.yaml"}, {"printing", "kit.yaml"}, {"booklet", "kit.yaml", "--check"}}
	said := make([]string, len(commands))
	for i, args := range commands {
		said[i], _ = cached(t, dir, warm, args)
	}
	places := []string{"", "dryfit", "dryfit/key", "dryfit/go-graphviz"}
	for _, pattern := range []string{"dryfit/*", "dryfit/*/*", "dryfit/go-graphviz/*/*"} {
		found, err := filepath.Glob(filepath.Join(warm, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range found {
			if name, _ := filepath.Rel(warm, path); !slices.Contains(places, name) {
				places = append(places, name)
			}
		}
	}
	if len(places) < 12 {
		t.Errorf("the cache has only %q", places)
	}
	for n := 0; n < len(places); n += 4 { // the packages that keep them try each kind in each place
		place, kind := places[n], kitstest.Specials[(n/4*2+2)%len(kitstest.Specials)]
		home := filepath.Join(t.TempDir(), "home")
		if err := os.CopyFS(home, os.DirFS(warm)); err != nil {
			t.Fatal(err)
		}
		kitstest.PutSpecial(t, kind, filepath.Join(home, place))
		use := n % len(commands)
		switch {
		case strings.Contains(place, "measurements"):
			use = 0
		case strings.Contains(place, "printing"):
			use = 1
		case strings.Contains(place, "picture"):
			use = 2
		}
		if out, messages := cached(t, dir, home, commands[use]); out != said[use] {
			t.Errorf("%s in the place of %q: %q says\n%s\nand %s, not\n%s", kind, place, commands[use], out, messages, said[use])
		}
	}
}

// cached runs a command with a cache folder.
func cached(t *testing.T, dir, home string, args []string) (out, messages string) {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	cmd := exec.CommandContext(ctx, "dryfit", args...)
	var said, beside bytes.Buffer
	cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = dir, append(os.Environ(), "XDG_CACHE_HOME="+home), &said, &beside
	if err := cmd.Run(); ctx.Err() != nil || cmd.ProcessState.ExitCode() == exitFailed {
		t.Errorf("%q: %v\n%s", args, err, &beside)
	}
	return said.String(), beside.String()
}
