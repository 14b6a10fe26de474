package blocking_test

import (
	"math"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// maze is a closed block of cells with passages cut into it, and a piece in it.
type maze struct {
	name  string
	size  [3]int
	rooms []cuboid // passages, in cells
	piece cuboid
	legs  int // fewest that it takes out; 0: there is no way
}

// A piece of 5 x 5 x 5 in passages 6 wide and high, unless stated.
var mazes = []maze{
	{"out by an offset hatch", [3]int{16, 8, 8}, []cuboid{
		{vec{1, 1, 1}, vec{15, 7, 7}}, // the inside
		{vec{8, 1, 7}, vec{15, 7, 8}}, // the hatch
	}, cuboid{vec{1, 1, 1}, vec{6, 6, 6}}, 2},
	{"out by an offset hatch, walls sliding on all sides", [3]int{16, 8, 8}, []cuboid{
		{vec{1, 1, 1}, vec{15, 7, 7}},
		{vec{8, 1, 7}, vec{15, 7, 8}},
	}, cuboid{vec{1, 1, 1}, vec{6, 7, 7}}, 2},
	{"hatch too short", [3]int{16, 8, 8}, []cuboid{
		{vec{1, 1, 1}, vec{15, 7, 7}},
		{vec{11, 1, 7}, vec{15, 7, 8}},
	}, cuboid{vec{1, 1, 1}, vec{6, 6, 6}}, 0},
	{"round a corner", [3]int{16, 18, 8}, []cuboid{
		{vec{1, 1, 1}, vec{15, 7, 7}},
		{vec{9, 1, 1}, vec{15, 17, 7}},
		{vec{9, 10, 7}, vec{15, 17, 8}},
	}, cuboid{vec{1, 1, 1}, vec{6, 6, 6}}, 3},
	{"round a corner too narrow", [3]int{16, 18, 8}, []cuboid{
		{vec{1, 1, 1}, vec{15, 7, 7}},
		{vec{11, 1, 1}, vec{15, 17, 7}},
		{vec{9, 10, 7}, vec{15, 17, 8}},
	}, cuboid{vec{1, 1, 1}, vec{6, 6, 6}}, 0},
	{"round two corners", [3]int{16, 18, 8}, []cuboid{
		{vec{1, 1, 1}, vec{15, 7, 7}},
		{vec{9, 1, 1}, vec{15, 17, 7}},
		{vec{1, 10, 1}, vec{15, 17, 7}},
		{vec{1, 10, 7}, vec{7, 17, 8}},
	}, cuboid{vec{1, 1, 1}, vec{6, 6, 6}}, 4},
}

func (z *maze) cells(p pose, edge float64) *cells {
	var wall, piece [][3]int
	for x := range z.size[0] {
		for y := range z.size[1] {
			for k := range z.size[2] {
				c := [3]int{x, y, k}
				if z.piece.has(c) {
					piece = append(piece, c)
				}
				open := false
				for _, r := range z.rooms {
					open = open || r.has(c)
				}
				if !open {
					wall = append(wall, c)
				}
			}
		}
	}
	return &cells{z.name, [][][3]int{piece, wall}, edge, p}
}

func (b cuboid) has(c [3]int) bool {
	for k := range 3 {
		if x := float64(c[k]) + 0.5; x < b.low[k] || x > b.high[k] {
			return false
		}
	}
	return true
}

// TestWays: a piece that no straight move frees finds the fewest legs, each of them
// free, and none where there is no way.
func TestWays(t *testing.T) {
	turned := kitstest.Some(t, 3, []pose{poses()[3], poses()[0], poses()[2]})
	edges := kitstest.Some(t, 2, []float64{1, 3})
	for _, z := range mazes {
		t.Run(z.name, func(t *testing.T) {
			t.Parallel()
			for _, p := range turned {
				for _, edge := range edges {
					c := z.cells(p, edge)
					m := measured(t, blocking.Settings{}, c.triangles()...)
					a := checkCellsApart(t, m, c)
					switch {
					case z.legs == 0:
						if len(a.Moves) != 0 || len(a.Locked) != 1 {
							t.Errorf("%s, edge %g: moves %v, locked %v; want both locked", p.name, edge, a.Moves, a.Locked)
						}
					case len(a.Moves) != 1 || len(a.Locked) != 0:
						t.Errorf("%s, edge %g: moves %v, locked %v; want a way of %d legs", p.name, edge, a.Moves, a.Locked, z.legs)
					case len(a.Moves[0].Legs) != z.legs:
						t.Errorf("%s, edge %g: a way of %d legs, want %d: %+v", p.name, edge, len(a.Moves[0].Legs), z.legs, a.Moves[0].Legs)
					}
				}
			}
		})
	}
}

// TestMazes compares the mazes themselves with a search of all ways of fewer legs
// along the 26 directions in steps of a quarter of a cell, and of those of as
// many along the six.
func TestMazes(t *testing.T) {
	for _, z := range mazes {
		c := z.cells(pose{"", meshtest.Identity, vec{}}, 1)
		fixed := runs(c.pieces[1])
		for legs := 1; legs <= max(z.legs, 4); legs++ {
			along := axes
			if legs <= 2 {
				along = neighbours()
			}
			found := z.search(fixed, vec{}, along, legs)
			if want := z.legs > 0 && legs >= z.legs; found != want {
				t.Errorf("%s: a way of %d legs: %v, want %v", z.name, legs, found, want)
			}
		}
	}
}

// search tries all ways of a number of legs from where the piece is.
func (z *maze) search(fixed []cuboid, at vec, along []vec, legs int) bool {
	free := func(to vec) bool {
		for _, b := range fixed {
			if z.piece.meets(b, at, to, 1e-6) {
				return false
			}
		}
		return true
	}
	for _, d := range along {
		if free(plus(at, times(100, d))) {
			return true
		}
		if legs == 1 {
			continue
		}
		step := 0.25
		if legs > 2 {
			step = 1
		}
		for l := step; l < 20; l += step {
			to := plus(at, times(l, d))
			if !free(to) {
				break
			}
			if z.search(fixed, to, along, legs-1) {
				return true
			}
		}
	}
	return false
}

// TestDistance: how far a solid goes before it meets another. It is never less than
// the exact length, which is when the last of the gaps between them closes; and where
// it says they meet, they do not yet overlap, deeper than what counts as touching, in
// a body two pitches wide across the direction.
func TestDistance(t *testing.T) {
	low := boxOf(vec{0, 0, 0}, vec{10, 10, 2})
	if got := distance(low, boxOf(vec{3, 3, 7}, vec{5, 5, 9}), up); math.Abs(got-5) > 1e-9 {
		t.Fatalf("the exact distance is %g, want 5", got)
	}
	for number := range scenes(t, 100) {
		s := numberedScene(number)
		m := measured(t, blocking.Settings{Pitch: 0.3}, s.triangles()...)
		for d := 0; d < len(m.Directions); d += 3 {
			for a := range s.solids {
				b := (a + 1) % len(s.solids)
				got := m.Distance(a, b, d)
				if m.Blocks(a, b, d) == blocking.Free {
					if !math.IsInf(got, 1) {
						t.Errorf("scene %d: %d leaves along %.6f past %d freely, but meets it after %g", number, a, m.Directions[d], b, got)
					}
					continue
				}
				want := distance(s.solids[a], s.solids[b], m.Directions[d])
				there := s.solids[a].moved(meshtest.Identity, times(min(got, 1000), m.Directions[d]))
				wide := 0.0
				if body := common(there, s.solids[b], m.Depth); body != nil {
					wide = body.shadow(across(m.Directions[d])).largest()
				}
				if got < want-0.01 || wide > m.Pitch {
					t.Errorf("scene %d (%s): %d goes %g along %.6f before it meets %d, want %g; they overlap %.3g pitches wide then",
						number, s.kind, a, got, m.Directions[d], b, want, 2*wide/m.Pitch)
				}
			}
		}
	}
}

// distance is how far a goes along d before it overlaps b, by all directions in
// which convex solids can be separated.
func distance(a, b *convex, d vec) float64 {
	latest := 0.0
	for _, n := range separating(a, b) {
		al, ah := a.extent(n)
		bl, bh := b.extent(n)
		if speed := dot(n, d); speed > 1e-9 {
			latest = max(latest, (bl-ah)/speed)
		} else if speed < -1e-9 {
			latest = max(latest, (bh-al)/speed)
		}
	}
	return latest
}

// common is what two convex solids have in common when a skin is taken off both; nil
// if that is nothing.
func common(a, b *convex, skin float64) *convex {
	rest := a
	for _, c := range []*convex{a, b} {
		for i, n := range c.normals {
			off := dot(n, c.faces[i][0]) - skin
			low, high := rest.extent(n)
			if low >= off {
				return nil
			}
			if high <= off {
				continue
			}
			if rest, _ = rest.split(n, off); rest == nil {
				return nil // thinner than numbers tell
			}
		}
	}
	return rest
}
