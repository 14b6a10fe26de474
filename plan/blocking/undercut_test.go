package blocking_test

import (
	"context"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// TestUndercut: a peg in a hole with a lip leaves past an undercut, and so does a
// ridged one, like a thread; but thin bars or a web across the way are none.
func TestUndercut(t *testing.T) {
	for _, c := range []struct {
		name   string
		pieces [][]mesh.Triangle
		locked bool
	}{
		{"a peg under a lip", [][]mesh.Triangle{
			meshtest.Lathe([][2]float64{{0, 2}, {5, 2}, {5, 8}, {4.4, 9}, {4.4, 20}, {0, 20}}, 48),
			meshtest.Lathe([][2]float64{{0, 0}, {9, 0}, {9, 10}, {4.5, 10}, {4.5, 9}, {5.05, 8}, {5.05, 2}, {0, 2}}, 48),
		}, false},
		{"a ridged peg", [][]mesh.Triangle{
			meshtest.Lathe([][2]float64{{0, 2}, {5, 2}, {5, 4}, {4.4, 4}, {4.4, 6}, {5, 6}, {5, 8}, {4.4, 8}, {4.4, 20}, {0, 20}}, 48),
			meshtest.Lathe([][2]float64{{0, 0}, {9, 0}, {9, 10}, {4.5, 10}, {4.5, 8}, {5.1, 8}, {5.1, 6}, {4.5, 6}, {4.5, 4}, {5.1, 4}, {5.1, 2}, {0, 2}}, 48),
		}, false},
		{"a block behind bars of 1 mm", caged(1), true},
		{"a block behind bars of half a mm", caged(0.5), true},
	} {
		m := measured(t, blocking.Settings{Pitch: 0.2}, c.pieces...)
		a, err := m.Disassemble(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case c.locked && len(a.Locked) != 1:
			t.Errorf("%s: moves %v, want it locked", c.name, a.Moves)
		case !c.locked && (len(a.Moves) != 1 || a.Moves[0].Undercut == 0):
			t.Errorf("%s: moves %v, locked %v; want a move past an undercut", c.name, a.Moves, a.Locked)
		}
	}
}

// caged is a block in a tub whose top is barred, all one piece with the tub.
func caged(bar float64) [][]mesh.Triangle {
	tub := [][]mesh.Triangle{
		box(vec{0, 0, 0}, vec{26, 21, 3}),
		box(vec{0, 0, 3}, vec{3, 21, 26}), box(vec{23, 0, 3}, vec{26, 21, 26}),
		box(vec{3, 0, 3}, vec{23, 3, 26}), box(vec{3, 18, 3}, vec{23, 21, 26}),
	}
	for x := 5.0; x < 22; x += 4 {
		tub = append(tub, box(vec{x, 3, 22}, vec{x + bar, 18, 25}))
	}
	return [][]mesh.Triangle{box(vec{3, 3, 3}, vec{23, 18, 20}), meshtest.Merge(tub...)}
}
