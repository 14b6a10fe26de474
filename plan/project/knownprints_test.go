package project

import (
	"context"
	"encoding/json"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/cache"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/plantest"
	"dryfit/plan/printing"
)

// A request for one printer of several does not take from the cache what is known of the
// others.
func TestPartialRequestKeepsCache(t *testing.T) {
	before, err := cache.Folder()
	if err != nil {
		t.Fatal(err)
	}
	cache.Use(t.TempDir())
	t.Cleanup(func() { cache.Use(before) })
	p := twoBoxes(t)
	all := measuredPrints(t, p, nil)
	after := measuredPrints(t, p, func(r *printing.Request) {
		r.NoLayers = true
		finer := *r.Printers[0]
		finer.Layer /= 2
		r.Printers = []*kits.Printer{&finer}
	})
	if len(all) == 0 || len(after) <= len(all) {
		t.Fatalf("measured %d, then %d: the test needs some, then more", len(all), len(after))
	}
	for _, key := range all {
		if !slices.Contains(after, key) {
			t.Errorf("%s is no longer known", key)
		}
	}
}

// measuredPrints plans the printing, and lists the keys of what the cache then holds.
func measuredPrints(t *testing.T, p *plan.Project, set func(*printing.Request)) (keys []string) {
	t.Helper()
	if _, _, err := Printing(context.Background(), p, set, func(text string) { t.Error(text) }); err != nil {
		t.Fatal(err)
	}
	var kept struct {
		Held map[string]json.RawMessage `json:"held"`
	}
	if err := json.Unmarshal(printingEntry(p).Read(), &kept); err != nil {
		t.Fatal(err)
	}
	for key := range kept.Held {
		keys = append(keys, key)
	}
	return keys
}

// twoBoxes is a kit of a box for each of two printers.
func twoBoxes(t *testing.T) *plan.Project {
	t.Helper()
	p := plantest.Check(t, `kit: Boxes
parts: {base: {printed: resin}, lid: {printed: filament}}
joins: [{fit: lid, to: base}]
printers:
  one: {process: resin, volume: [100, 100, 100]}
  two: {process: filament, volume: [100, 100, 100]}
`)
	box, err := mesh.FromTriangles("", meshtest.Box([3]float64{}, [3]float64{30, 20, 10}))
	if err != nil {
		t.Fatal(err)
	}
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"base": box, "lid": box}, nil)
	return p
}
