package plan_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/plan/explain"
)

// FuzzCheck runs everything that follows from a kit file: no matter what is in
// it, there is no panic, an order is there exactly when there is no fault, and it
// has each step once.
func FuzzCheck(f *testing.F) {
	f.Add(demo.Kit)
	f.Add([]byte(`
kit: Box
parts: {box: {}, lid: {}, stove: {size: [9, 9, 9]}, pot: {quantity: 2, fragile: true}}
joins:
  - {fit: stove, to: box, bench: true, after: pot}
  - {fit: pot, to: stove}
  - {fit: lid, to: [box, stove], with: magnet}
spaces:
  room: {closed-by: [box, {piece: lid, opening: [9, 12], facing: z}], holds: [stove, pot]}
wires:
  - {wire: lead, from: stove, to: lid, through: pot, runs-in: room, across: 2, hole: 1}
tasks:
  - {do: Paint, coat: outside, before: lid}
service:
  - {reach: stove, by-opening: lid}
`))
	edits, err := filepath.Glob(filepath.Join("..", "cmd", "dryfit", "testdata", "script", "*.txtar"))
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range edits {
		text, err := os.ReadFile(e)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		kit, err := kits.Read("kit.yaml", data)
		if err != nil || len(kit.Pieces) > 300 {
			return
		}
		rep, err := explain.Check(kit)
		if err != nil {
			return
		}
		if rep.OK() != (rep.Sequence != nil) {
			t.Fatalf("OK is %v, sequence %v", rep.OK(), rep.Sequence)
		}
		q := rep.Draft()
		order := slices.Sorted(slices.Values(q.Order))
		for i, v := range order {
			if i != v {
				t.Fatalf("the order does not have each step once: %v", q.Order)
			}
		}
		for _, p := range kit.Pieces {
			if _, err := explain.Ask(rep, p.ID); err != nil {
				t.Fatal(err)
			}
		}
	})
}
