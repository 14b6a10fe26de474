package booklet

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"dryfit/graphviz/draw"
	"dryfit/graphviz/words"
	"dryfit/kits/cache"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/plantest"
)

// Pictures that are kept and damaged, or signed with the key of somebody else, are drawn
// anew, and the file is whole afterwards.
func TestDamagedPictures(t *testing.T) {
	before, err := cache.Folder()
	if err != nil {
		t.Fatal(err)
	}
	dir, stranger := t.TempDir(), t.TempDir()
	t.Cleanup(func() { cache.Use(before) })
	p := plantest.Check(t, "kit: Boxes\nparts: {base: {}, lid: {}}\njoins: [{fit: lid, to: base, with: ca}]\n")
	base, err := mesh.FromTriangles("", meshtest.Box([3]float64{}, [3]float64{30, 20, 10}))
	if err != nil {
		t.Fatal(err)
	}
	lid, err := mesh.FromTriangles("", meshtest.Box([3]float64{0, 0, 10}, [3]float64{30, 20, 12}))
	if err != nil {
		t.Fatal(err)
	}
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"base": base, "lid": lid}, nil)
	drawn := func() {
		t.Helper()
		if _, err := MakeKept(t.Context(), p, Options{Language: words.Language{Tag: "en"}}, func(text string) { t.Error(text) }); err != nil {
			t.Fatal(err)
		}
	}
	kept := func() map[string][]byte {
		t.Helper()
		files, err := filepath.Glob(filepath.Join(dir, cacheKind, "*"))
		if err != nil || len(files) == 0 {
			t.Fatalf("nothing is kept: %v", err)
		}
		list := map[string][]byte{}
		for _, f := range files {
			if list[f], err = os.ReadFile(f); err != nil {
				t.Fatal(err)
			}
		}
		return list
	}
	cache.Use(stranger)
	drawn()
	cache.Use(dir)
	drawn()
	want := kept()
	random := rand.New(rand.NewPCG(8, 2))
	for n := range kitstest.Rounds(t, 100, 10) {
		for f, data := range want {
			bad := kitstest.Spoil(random, bytes.Clone(data))
			if n%10 == 0 {
				if bad, err = os.ReadFile(filepath.Join(stranger, cacheKind, filepath.Base(f))); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.WriteFile(f, bad, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if entryOf(p).Read() != nil {
			t.Errorf("round %d: what is damaged is believed", n)
		}
		drawn()
		if _, err := draw.ReadCache(entryOf(p).Read()); err != nil {
			t.Errorf("round %d: it is not replaced: %v", n, err)
		}
	}
}
