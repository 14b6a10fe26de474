package blocking_test

import (
	"context"
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

func box(low, high vec) []mesh.Triangle { return meshtest.Box(low, high) }

// near reports whether got equals want within a percentage.
func near(got, want, percent float64) bool { return math.Abs(got-want) <= percent/100*want }

// TestClash: two boxes that overlap, and how much and how deep. A volume is right to
// half a pitch at its rim, which is up to 5 % of these.
func TestClash(t *testing.T) {
	for _, c := range []struct {
		name          string
		a, b          []mesh.Triangle
		volume, depth float64
	}{
		{"half a mm", box(vec{}, vec{10, 12, 20}), box(vec{9.5, 0, 0}, vec{20, 12, 20}), 0.5 * 12 * 20, 0.5},
		{"a corner", box(vec{}, vec{10, 12, 20}), box(vec{6, 7, 14}, vec{20, 20, 30}), 4 * 5 * 6, 4},
		{"a bar through a block", box(vec{}, vec{20, 20, 20}), box(vec{7, 8, -5}, vec{12, 12, 25}), 5 * 4 * 20, 4},
		{"one inside the other", box(vec{}, vec{20, 20, 20}), box(vec{5, 6, 7}, vec{10, 12, 14}), 5 * 6 * 7, 5},
	} {
		for _, p := range poses() {
			m := measured(t, blocking.Settings{Pitch: 0.3}, placed([][]mesh.Triangle{c.a, c.b}, p, 1)...)
			pair := m.Pair(0, 1)
			if pair == nil {
				t.Fatalf("%s, %s: not near each other", c.name, p.name)
			}
			if pair.A != 0 || pair.B != 1 || *m.Pair(1, 0) != *pair || len(m.Pairs) != 1 {
				t.Errorf("%s, %s: pairs %+v", c.name, p.name, m.Pairs)
			}
			if !near(pair.Volume, c.volume, 5) || !near(pair.Depth, c.depth, 2) {
				t.Errorf("%s, %s: %.4g mm3 and %.4g mm deep, want %g and %g", c.name, p.name, pair.Volume, pair.Depth, c.volume, c.depth)
			}
			for i, d := range m.Directions {
				if m.Blocks(0, 1, i) != blocking.Clash || m.Blocks(1, 0, i) != blocking.Clash {
					t.Errorf("%s, %s: along %.4f %s and %s, want clashes", c.name, p.name, d, relation(m.Blocks(0, 1, i)), relation(m.Blocks(1, 0, i)))
				}
			}
		}
	}
}

// TestOverlapWithinDepth: overlap that counts as touching is no clash, and more is.
func TestOverlapWithinDepth(t *testing.T) {
	for _, p := range poses() {
		for _, c := range []struct {
			overlap, depth float64
			clash          bool
		}{{0.09, 0, false}, {0.12, 0, true}, {0.12, 0.15, false}, {0.18, 0.15, true}, {0.04, 0.02, true}} {
			m := measured(t, blocking.Settings{Pitch: 0.3, Depth: c.depth}, placed([][]mesh.Triangle{
				box(vec{}, vec{10, 12, 20}), box(vec{10 - c.overlap, 0, 0}, vec{20, 12, 20}),
			}, p, 1)...)
			pair := m.Pair(0, 1)
			if pair == nil || (pair.Depth > 0) != c.clash || (pair.Volume > 0) != c.clash {
				t.Errorf("%s, %g mm of overlap, %g allowed: %+v, want a clash: %v", p.name, c.overlap, m.Depth, pair, c.clash)
			}
			for _, x := range []struct {
				d    vec
				want verdict
			}{{vec{1, 0, 0}, blocked}, {vec{-1, 0, 0}, free}, {vec{0, 1, 0}, free}, {vec{0, 0, -1}, free}} {
				got := m.Blocks(0, 1, along(t, m, p.toModel(x.d)))
				// Sideways, overlap as narrow as this may be let pass.
				if !x.want.agrees(got) && !(c.clash && got == blocking.Clash) {
					t.Errorf("%s, %g mm of overlap, %g allowed: along %v %s, want %s; or a clash: %v", p.name, c.overlap, m.Depth, x.d, relation(got), x.want, c.clash)
				}
			}
		}
	}
}

// TestClashApart: pieces that clash come apart when clashes are set aside, the one
// further along by going further, and are held fast to each other when not.
func TestClashApart(t *testing.T) {
	for _, p := range poses() {
		m := measured(t, blocking.Settings{Pitch: 0.3}, placed([][]mesh.Triangle{
			box(vec{}, vec{10, 12, 20}), box(vec{9.5, 0, 0}, vec{20, 12, 20}), box(vec{0, 0, 20}, vec{20, 12, 25}),
		}, p, 1)...)
		a, err := m.Disassemble(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		checkAccount(t, m, a)
		if len(a.Moves) != 2 || len(a.Locked) != 0 {
			t.Errorf("%s: moves %v, locked %v; want it apart", p.name, a.Moves, a.Locked)
		}
		if a, err = m.DisassembleStrictly(context.Background()); err != nil {
			t.Fatal(err)
		}
		checkAccount(t, m, a)
		if len(a.Moves) != 1 || len(a.Locked) != 1 || len(a.Locked[0].Pieces) != 2 || a.Locked[0].Pieces[0]+a.Locked[0].Pieces[1] != 1 {
			t.Errorf("%s, strictly: moves %v, locked %v; want 0 and 1 locked", p.name, a.Moves, a.Locked)
		}
	}
}

// TestContact: the area of faces that touch, flat and round, upright and tilted.
func TestContact(t *testing.T) {
	wedge := [][2]float64{{0, 0}, {20, 0}, {20, 10}, {0, 4}} // its slope is sqrt(436) long
	over := [][2]float64{{0, 4}, {20, 10}, {20, 30}, {0, 30}}
	shaft := 2 * 48 * 6 * math.Sin(math.Pi/48) * 15 // the wall of a prism of 48 sides
	for _, c := range []struct {
		name          string
		a, b          []mesh.Triangle
		area, percent float64
	}{
		{"face on face", box(vec{}, vec{10, 12, 20}), box(vec{10, 0, 0}, vec{15, 12, 20}), 240, 2},
		{"part of a face", box(vec{}, vec{10, 12, 20}), box(vec{10, 5, 7}, vec{15, 30, 30}), 7 * 13, 4},
		{"three faces of a corner", box(vec{}, vec{10, 12, 20}), notched(), 240 + 200 + 120, 2},
		{"slope", meshtest.Prism(wedge, 0, 12), meshtest.Prism(over, 0, 12), 12 * math.Sqrt(436), 2},
		{"shaft in a sleeve", meshtest.Cylinder(6, 0, 15, 48), meshtest.Tube(9, 6, 0, 15, 48), shaft, 3},
		{"edge on edge", box(vec{}, vec{10, 12, 20}), box(vec{10, 12, 0}, vec{15, 30, 30}), 0, 0},
		{"beside, a mm off", box(vec{}, vec{10, 12, 20}), box(vec{11, 0, 0}, vec{15, 12, 20}), 0, 0},
	} {
		for _, p := range poses() {
			m := measured(t, blocking.Settings{Pitch: 0.3}, placed([][]mesh.Triangle{c.a, c.b}, p, 1)...)
			var got blocking.Pair
			if pair := m.Pair(0, 1); pair != nil {
				got = *pair
			}
			tolerance := c.percent / 100 * c.area
			if c.area == 0 {
				tolerance = 20 * math.Sqrt2 * m.Touch // what lies that near to the edge
			}
			if math.Abs(got.Contact-c.area) > tolerance {
				t.Errorf("%s, %s: %.2f mm2 of contact, want %.2f", c.name, p.name, got.Contact, c.area)
			}
			if got.Depth != 0 || got.Volume != 0 {
				t.Errorf("%s, %s: a clash: %+v", c.name, p.name, got)
			}
		}
	}
}

// notched is what fits round the far corner of a box of 10 x 12 x 20.
func notched() []mesh.Triangle {
	var cells [][3]int
	for x := range 6 {
		for y := range 7 {
			for z := range 11 {
				if x == 5 || y == 6 || z == 10 {
					cells = append(cells, [3]int{x, y, z})
				}
			}
		}
	}
	return meshtest.Cubes(cells, 2)
}

// TestGap: faces a little apart, and the gap between them.
func TestGap(t *testing.T) {
	for _, p := range poses() {
		for _, gap := range []float64{0.02, 0.1, 0.35} {
			m := measured(t, blocking.Settings{Pitch: 0.3}, placed([][]mesh.Triangle{
				box(vec{}, vec{10, 12, 20}), box(vec{10 + gap, 0, 0}, vec{20, 12, 20}),
			}, p, 1)...)
			pair := m.Pair(0, 1)
			if pair == nil {
				if gap < m.Touch {
					t.Errorf("%s: a gap of %g, less than %g, and no pair", p.name, gap, m.Touch)
				}
				continue
			}
			if math.Abs(pair.Gap-gap) > 0.01 {
				t.Errorf("%s: a gap of %.4f, want %g", p.name, pair.Gap, gap)
			}
			if want := 240.0; gap < m.Touch && !near(pair.Contact, want, 2) || gap > m.Touch && pair.Contact != 0 {
				t.Errorf("%s: %.2f mm2 of contact over a gap of %g, up to %g counts", p.name, pair.Contact, gap, m.Touch)
			}
			if pair.Depth != 0 || pair.Volume != 0 {
				t.Errorf("%s: a clash over a gap of %g: %+v", p.name, gap, pair)
			}
		}
	}
}

// TestFit: a gap wider than what is always measured is measured when it is the fit.
func TestFit(t *testing.T) {
	const gap = 3.0
	for fit, want := range map[float64]bool{0: false, gap - 0.1: false, gap + 0.1: true} {
		m := measured(t, blocking.Settings{Pitch: 0.3, Fit: fit}, box(vec{}, vec{10, 10, 10}), box(vec{0, 0, 10 + gap}, vec{10, 10, 20}))
		pair := m.Pair(0, 1)
		if (pair != nil) != want {
			t.Errorf("a gap of %g mm with a fit of %g: %v", gap, fit, pair)
		}
		if pair != nil && (math.Abs(pair.Gap-gap) > 0.01 || pair.Contact != 0) {
			t.Errorf("a gap of %g mm measured as %g, contact %g mm2", gap, pair.Gap, pair.Contact)
		}
	}
}
