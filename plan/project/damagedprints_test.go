package project

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"dryfit/kits/cache"
	"dryfit/kits/kitstest"
	"dryfit/plan/printing"
)

// What is kept of a printing plan is not believed when it is damaged, or signed with the key
// of somebody else, and the next plan replaces it: its numbers stay the same.
func TestDamagedPrints(t *testing.T) {
	before, err := cache.Folder()
	if err != nil {
		t.Fatal(err)
	}
	dir, stranger := t.TempDir(), t.TempDir()
	t.Cleanup(func() { cache.Use(before) })
	p := twoBoxes(t)
	costs := func() (list []printing.Cost) {
		t.Helper()
		made, _, err := Printing(t.Context(), p, nil, func(text string) { t.Error(text) })
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range made.Parts {
			list = append(list, part.Setting.Cost)
		}
		return list
	}
	cache.Use(stranger)
	want := costs()
	lie := printingEntry(p).Read()
	cache.Use(dir)
	costs()
	good := printingEntry(p).Read()
	if good == nil || lie == nil {
		t.Fatal("nothing is kept")
	}
	random := rand.New(rand.NewPCG(8, 1))
	for n := range kitstest.Rounds(t, 100, 10) {
		files, err := filepath.Glob(filepath.Join(dir, printingKind, "*"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%v, %v", files, err)
		}
		for _, f := range files {
			from := f
			if n%10 == 0 { // forged: whole, but signed with another key
				from = filepath.Join(stranger, printingKind, filepath.Base(f))
			}
			data, err := os.ReadFile(from)
			if err != nil {
				t.Fatal(err)
			}
			if from == f {
				data = kitstest.Spoil(random, data)
			}
			if err := os.WriteFile(f, data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if got := printingEntry(p).Read(); got != nil {
			t.Fatalf("round %d: what is damaged is believed", n)
		}
		if got := costs(); !reflect.DeepEqual(got, want) {
			t.Errorf("round %d: costs %v, want %v", n, got, want)
		}
		if string(printingEntry(p).Read()) != string(good) {
			t.Errorf("round %d: it is not replaced", n)
		}
	}
}

// What is signed and still no plan, as another state of the program may leave it, is not
// believed either.
func TestKeptPrintsOfNoUse(t *testing.T) {
	for _, bad := range []string{"", "null", "[]", `{"held": null, "seen": 3}`, `{"held": {"x": {"Need": []}}}`} {
		if data, err := printing.NewKnown([]byte(bad)).Keep(true); data != nil || err != nil {
			t.Errorf("%q: keeps %q, %v", bad, data, err)
		}
	}
}
