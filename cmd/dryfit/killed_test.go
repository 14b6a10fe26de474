package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dryfit/kits/kitstest"
	record "dryfit/kits/progress"
)

// Whatever writes files may be killed at any moment: each file is then whole, the old or the
// new one, and the next run takes the temporary files away.
func TestKilledWriters(t *testing.T) {
	const kit = "kit: Box\nscale: \"1:32\"\nparts:\n  box: {size: [9, 9, 9]}\n  gem: {size: [2, 2, 2]}\n  lid: {size: [9, 9, 1]}\njoins:\n  - {fit: gem, to: box, with: ca}\n  - {fit: lid, to: box, with: ca}\n"
	writers := [][]string{
		{"mark", "kit.yaml", "printed", "gem"},
		{"booklet", "kit.yaml", "-o", "out.html"},
		{"booklet", "kit.yaml", "-o", "out.pdf"},
		{"page", "kit.yaml", "--out", "web"},
		{"tree", "kit.yaml", "-o", "tree.svg"},
		{"rescale", "kit.yaml", "1:24", "--write", "other.yaml"},
		{"demo", "demo"},
	}
	rounds := kitstest.Rounds(t, 250, 14) // other moments each time: -count 4 kills a thousand
	half, killed := 0, 0
	for n, args := range writers {
		whole := t.TempDir()
		run := func(dir string) (*exec.Cmd, time.Duration) {
			cmd := exec.Command("dryfit", args...)
			cmd.Dir = dir
			began := time.Now()
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			return cmd, time.Since(began)
		}
		write := func(dir string) {
			t.Helper()
			if err := os.WriteFile(filepath.Join(dir, "kit.yaml"), []byte(kit), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		write(whole)
		began := time.Now()
		cmd, _ := run(whole)
		if err := cmd.Wait(); err != nil {
			t.Fatalf("%v: %v", args, err)
		}
		long := time.Since(began)
		want := contents(t, whole)
		dir := t.TempDir()
		write(dir)
		for range rounds/len(writers) + n%2 {
			cmd, _ := run(dir)
			time.Sleep(time.Duration(rand.Int64N(int64(long))))
			_ = cmd.Process.Kill() // it may have ended
			if cmd.Wait() != nil {
				killed++
			}
			half += broken(t, dir, want)
			for name := range contents(t, dir) { // so that the next has to write it
				if name != "kit.yaml" && rand.IntN(2) == 0 && !strings.Contains(name, ".dryfit-") {
					_ = os.Remove(filepath.Join(dir, name))
				}
			}
		}
		cmd, _ = run(dir)
		if err := cmd.Wait(); err != nil {
			t.Errorf("%v: %v", args, err)
		}
		for name := range contents(t, dir) {
			if strings.HasPrefix(filepath.Base(name), ".dryfit-") {
				t.Errorf("%v: %s is left", args, name)
			}
		}
	}
	t.Logf("%d of %d runs were killed while they worked; %d files are half-written", killed, rounds, half)
	if half > 0 || killed == 0 {
		t.Fail()
	}
}

// broken counts the files that are neither whole nor temporary.
func broken(t *testing.T, dir string, want map[string][]byte) int {
	t.Helper()
	n := 0
	for name, got := range contents(t, dir) {
		switch {
		case strings.HasPrefix(filepath.Base(name), ".dryfit-"), strings.HasSuffix(name, ".lock"):
		case strings.HasPrefix(name, "kit.progress"):
			if _, err := record.ReadFile(filepath.Join(dir, name)); err != nil {
				t.Errorf("%s: %v", name, err)
				n++
			}
		case !bytes.Equal(got, want[name]):
			t.Errorf("%s has %d bytes, want %d", name, len(got), len(want[name]))
			n++
		}
	}
	return n
}

// contents reads all files below a folder.
func contents(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		name, err := filepath.Rel(dir, path)
		all[name] = data
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
