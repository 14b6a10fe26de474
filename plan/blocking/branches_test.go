package blocking_test

import (
	"context"
	"math/rand"
	"slices"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// Two boxes are each locked in another, and stand at odd angles. The axes that the shapes
// of one pair suggest are measured for that pair only: they say nothing of the other.
func TestAxesOfOnePairOnly(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	lists := [][]mesh.Triangle{meshtest.Box(vec{-200, -200, -60}, vec{200, 200, -50})}
	for i := range 2 {
		turn := meshtest.RandomRotation(r)
		put := func(list []mesh.Triangle) []mesh.Triangle {
			return meshtest.Transform(list, turn, vec{60 * float64(i), 0, 0}, 1)
		}
		lists = append(lists,
			put(meshtest.Merge(meshtest.Box(vec{-12, -12, -12}, vec{12, 12, 12}), meshtest.Inverted(meshtest.Box(vec{-8, -8, -8}, vec{8, 8, 8})))),
			put(meshtest.Box(vec{-7, -7, -7}, vec{7, 7, 7})))
	}
	m := measured(t, blocking.Settings{Pitch: 0.5}, lists...)
	a, err := m.Disassemble(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var locked [][]int
	for _, l := range a.Locked {
		locked = append(locked, l.Pieces)
	}
	slices.SortFunc(locked, slices.Compare)
	if len(locked) != 2 || !slices.Equal(locked[0], []int{1, 2}) || !slices.Equal(locked[1], []int{3, 4}) {
		t.Errorf("locked: %v, want 1 with 2 and 3 with 4", locked)
	}
}
