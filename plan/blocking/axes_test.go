package blocking_test

import (
	"context"
	"math/rand"
	"slices"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// TestObliquePins: pins in blind holes, each at an angle of its own, in a model
// with many such. Each has one way out only, and the model must be measured along
// it.
func TestObliquePins(t *testing.T) {
	round := func(c float64) [][]mesh.Triangle { return roundPeg(c, 48, 48) }
	for _, c := range kitstest.Some(t, 2, []struct {
		name  string
		pairs int
		make  func(clearance float64) [][]mesh.Triangle
	}{
		{"square", 6, squarePeg}, {"square", 30, squarePeg},
		{"round", 6, round}, {"round", 30, round},
	}) {
		r := rand.New(rand.NewSource(int64(c.pairs)))
		var lists [][]mesh.Triangle
		var outs []vec
		for i := range c.pairs {
			p := pose{"", meshtest.RandomRotation(r), vec{60 * float64(i%6), 60 * float64(i/6), 0}}
			outs = append(outs, p.toModel(up))
			lists = append(lists, placed(c.make(0.05), p, 0.8)...)
		}
		m := measured(t, blocking.Settings{Pitch: 0.3}, lists...)
		missed := 0
		for i, out := range outs {
			found := false
			for d, e := range m.Directions {
				if angle(out, e) < 2e-3 && m.Blocks(2*i, 2*i+1, d) == blocking.Free {
					found = true
				}
			}
			if !found {
				missed++
			}
		}
		if missed > 0 && c.pairs <= 6 { // a bound on the directions is allowed, if the pins come out anyway
			t.Errorf("%d %s pins: %d have no direction out, of %d directions", c.pairs, c.name, missed, len(m.Directions))
		}
		a, err := m.Disassemble(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		checkAccount(t, m, a)
		var locked []int
		for _, l := range a.Locked {
			locked = append(locked, l.Pieces...)
		}
		slices.Sort(locked)
		if len(locked) > 0 {
			t.Errorf("%d %s pins: locked %v", c.pairs, c.name, locked)
		}
	}
}
