package main

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	record "dryfit/kits/progress"
)

// Twenty marks at once, ticks on the page between them, and a few more marks that are killed
// on the way: what ended well is in the file.
func TestMarksAtOnce(t *testing.T) {
	const marks, killed = 20, 5
	var kit strings.Builder
	kit.WriteString("kit: Many\nparts:\n  box: {}\n  lid: {}\n")
	for i := range marks + killed {
		fmt.Fprintf(&kit, "  gem-%d: {}\n", i)
	}
	kit.WriteString("joins:\n")
	for i := range marks + killed {
		fmt.Fprintf(&kit, "  - {fit: gem-%d, to: box, with: ca}\n", i)
	}
	kit.WriteString("  - {fit: lid, to: box, with: ca}\nspaces:\n  inside: {closed-by: [lid], holds: [gem-0, gem-1, gem-2, gem-3, gem-4]}\n")
	k := kitstest.Read(t, kit.String())
	file := filepath.Join(t.TempDir(), "kit.yaml")
	if err := os.WriteFile(file, []byte(kit.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	page := servedPage(t, file)
	random := rand.New(rand.NewPCG(8, 9))
	lost, ended := 0, 0
	for range kitstest.Rounds(t, 15, 2) {
		if err := os.RemoveAll(record.Path(file)); err != nil {
			t.Fatal(err)
		}
		var all []*exec.Cmd
		for i := range marks + killed {
			cmd := exec.Command("dryfit", "mark", file, "printed", fmt.Sprintf("gem-%d", i))
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			all = append(all, cmd)
		}
		victims := make(chan struct{})
		delays := make([]time.Duration, killed)
		for i := range delays {
			delays[i] = time.Duration(random.IntN(200)) * time.Millisecond
		}
		go func() {
			defer close(victims)
			for i, cmd := range all[marks:] {
				time.Sleep(delays[i])
				_ = cmd.Process.Kill() // it may have ended
			}
		}()
		ticked := map[string]bool{}
		for _, id := range page.calls {
			if ticked[id] = page.tick(t, id) == http.StatusNoContent; !ticked[id] {
				t.Errorf("the tick %s is refused", id)
			}
		}
		var well []int
		<-victims
		for i, cmd := range all {
			if err := cmd.Wait(); err == nil {
				well = append(well, i)
			} else if i < marks {
				t.Errorf("mark %d: %v", i, err)
			}
		}
		lost += missing(t, k, file, well, ticked)
		ended += len(well)
	}
	t.Logf("%d of %d marks that ended well are lost", lost, ended)
	if lost > 0 || ended == 0 || len(page.calls) < 5 {
		t.Fail()
	}
}

// missing counts the marks and ticks that are not in the progress file.
func missing(t *testing.T, k *kits.Kit, file string, marked []int, ticked map[string]bool) int {
	t.Helper()
	f, err := record.ReadFile(record.Path(file))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	of := f.Of(k)
	for _, i := range marked {
		if of.Pieces[k.PiecesNamed(fmt.Sprintf("gem-%d", i))[0]]&record.Printed == 0 {
			n++
		}
	}
	for id, on := range ticked {
		if on && !f.IsTicked(id) {
			n++
		}
	}
	return n
}
