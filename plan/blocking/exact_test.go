package blocking_test

import (
	"fmt"
	"math"
	"math/rand"
	"sync/atomic"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// What the package promises of an overlap across the direction of travel, as radii
// of the largest disc in it and in pitches.
const (
	mustSee  = 0.75 // found for certain from here on
	mustPass = 0.25 // never reported below this
)

// scenes is how many random scenes a test draws: all, or a tenth of them.
func scenes(t *testing.T, full int) int {
	t.Helper()
	return kitstest.Rounds(t, full, full/10)
}

// TestConvexScenes compares every relation of every pair along every direction
// with the exact one, for random scenes of convex solids that do not overlap.
func TestConvexScenes(t *testing.T) {
	var seen [3]atomic.Int64 // relations by verdict
	t.Cleanup(func() {
		t.Logf("relations: %d free, %d blocked, %d too narrow to tell", seen[free].Load(), seen[blocked].Load(), seen[either].Load())
		if seen[free].Load() == 0 || seen[blocked].Load() == 0 {
			t.Error("not all kinds of relations came up")
		}
	})
	const batches = 20
	n := scenes(t, 1000) / batches
	for batch := range batches {
		t.Run(fmt.Sprint(batch), func(t *testing.T) {
			t.Parallel()
			for i := range n {
				number := batch*n + i
				for v, count := range checkConvexScene(t, number) {
					seen[v].Add(int64(count))
				}
				if t.Failed() {
					return // the first scene that fails says enough
				}
			}
		})
	}
}

func checkConvexScene(t *testing.T, number int) [3]int {
	s := numberedScene(number)
	m := measured(t, blocking.Settings{Pitch: 0.3}, s.triangles()...)
	if m.Pitch != 0.3 {
		t.Fatalf("pitch %g, asked for 0.3", m.Pitch)
	}
	checkDirections(t, m)
	return checkRelations(t, m, s, number)
}

// checkRelations compares every relation of every pair with the exact one, and counts
// them by verdict.
func checkRelations(t *testing.T, m *blocking.Model, s scene, number int) (seen [3]int) {
	t.Helper()
	for d := 0; d < len(m.Directions); d += 2 {
		view := newView(s.solids, m.Directions[d])
		for a := range s.solids {
			for b := range a {
				forth, back := view.relation(a, b, m.Pitch)
				for _, x := range []struct {
					a, b, d int
					want    verdict
				}{{a, b, d, forth}, {b, a, d, back}, {a, b, d + 1, back}, {b, a, d + 1, forth}} {
					seen[x.want]++
					if got := m.Blocks(x.a, x.b, x.d); !x.want.agrees(got) {
						t.Errorf("scene %d (%s): %d leaves along %.9f past %d: %s, want %s; the overlap holds a disc of %.3g pitches",
							number, s.kind, x.a, m.Directions[x.d], x.b, relation(got), x.want, 2*view.both(a, b).largest()/m.Pitch)
					}
				}
			}
		}
	}
	return seen
}

// view is solids seen along a direction.
type view struct {
	solids  []*convex
	d, u, v vec
	shadows []polygon
}

func newView(solids []*convex, d vec) *view {
	u, v := across(d)
	w := &view{solids, d, u, v, nil}
	for _, c := range solids {
		w.shadows = append(w.shadows, c.shadow(u, v))
	}
	return w
}

// both is where the shadows of two solids overlap.
func (w *view) both(a, b int) polygon { return overlap(w.shadows[a], w.shadows[b]) }

// relation is whether b is in the way of a along the direction, and a in that of b.
// They overlap across it where their shadows do, and the one further along is the
// same everywhere. A wrong order is never excused by how narrow the overlap is.
func (w *view) relation(a, b int, pitch float64) (forth, back verdict) {
	both := w.both(a, b)
	if len(both) < 3 || len(both.eroded(mustPass*pitch*(1-1e-4))) == 0 {
		return free, free
	}
	seen := either
	if len(both.eroded(mustSee*pitch*(1+1e-4))) > 0 {
		seen = blocked
	}
	x := both.middle()
	if above(w.solids[a], w.solids[b], plus(times(x[0], w.u), times(x[1], w.v)), w.d) {
		return seen, free
	}
	return free, seen
}

// TestConvexOracle compares the exact method itself with cases computed by hand,
// and against pushing one solid along in small steps.
func TestConvexOracle(t *testing.T) {
	low := boxOf(vec{0, 0, 0}, vec{10, 10, 2})
	for _, c := range []struct {
		name        string
		b           *convex
		d           vec
		forth, back verdict
		width       float64
	}{
		{"on top", boxOf(vec{2, 2, 2}, vec{6, 5, 3}), vec{0, 0, 1}, blocked, free, 1.5},
		{"below", boxOf(vec{2, 2, -4}, vec{6, 5, -3}), vec{0, 0, 1}, free, blocked, 1.5},
		{"beside", boxOf(vec{10, 0, 0}, vec{12, 9, 9}), vec{0, 0, 1}, free, free, 0},
		{"a hair over the rim", boxOf(vec{9.95, 0, 5}, vec{12, 9, 9}), vec{0, 0, 1}, free, free, 0.025},
		{"a pitch over the rim", boxOf(vec{9.7, 0, 5}, vec{12, 9, 9}), vec{0, 0, 1}, either, free, 0.15},
		{"diagonally ahead", boxOf(vec{11, 1, 3}, vec{13, 8, 5}), vec{1, 0, 1}, blocked, free, math.Sqrt2},
	} {
		w := newView([]*convex{low, c.b}, unit(c.d))
		forth, back := w.relation(0, 1, 0.3)
		width := w.both(0, 1).largest()
		if forth != c.forth || back != c.back || math.Abs(width-c.width) > 1e-6 {
			t.Errorf("%s: %v, %v, disc of radius %g; want %v, %v, %g", c.name, forth, back, width, c.forth, c.back, c.width)
		}
	}
	r := rand.New(rand.NewSource(3))
	for i := range 60 {
		s := randomScene(r, i)
		for k, c := range s.solids {
			if !closedSolid(c) {
				t.Fatalf("scene %d (%s): solid %d is not closed", i, s.kind, k)
			}
			for j := range k {
				if gap := apart(c, s.solids[j]); gap < -2e-5 {
					t.Fatalf("scene %d (%s): solids %d and %d overlap by %g", i, s.kind, j, k, -gap)
				}
			}
		}
		a, b, d := s.solids[0], s.solids[1], randomUnit(r)
		forth, back := newView([]*convex{a, b}, d).relation(0, 1, 0.3)
		if hits := pushed(a, b, d); forth == blocked && !hits || forth == free && back == blocked && hits {
			t.Errorf("scene %d (%s) along %v: %v, but pushing hits: %v", i, s.kind, d, forth, hits)
		}
	}
}

// pushed reports whether a, moved along d in steps of a tenth of a mm, overlaps b by
// more than a hundredth somewhere.
func pushed(a, b *convex, d vec) bool {
	for i := range 600 {
		if apart(a.moved(meshtest.Identity, times(0.1*float64(i), d)), b) < -0.01 {
			return true
		}
	}
	return false
}

// closedSolid reports whether each edge is run through once in either sense.
func closedSolid(c *convex) bool {
	runs := map[[2]vec]int{}
	for _, f := range c.faces {
		for i, p := range f {
			runs[[2]vec{p, f[(i+1)%len(f)]}]++
		}
	}
	for e, n := range runs {
		if n != 1 || runs[[2]vec{e[1], e[0]}] != 1 {
			return false
		}
	}
	return true
}
