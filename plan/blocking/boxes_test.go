package blocking_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// oneAtATime takes pieces away along one direction until none can go; it returns what
// is left.
func oneAtATime(m *blocking.Model, d int) []int {
	var left []int
	for i := range m.Pieces {
		left = append(left, i)
	}
	for {
		i := slices.IndexFunc(left, func(a int) bool {
			return !slices.ContainsFunc(left, func(b int) bool { return a != b && m.Blocks(a, b, d) != blocking.Free })
		})
		if i < 0 {
			return left
		}
		left = slices.Delete(left, i, i+1)
	}
}

// TestBoxesApart: any boxes along the axes that do not overlap come apart one at a
// time along +z, and so along every axis: whatever is in the way of a box begins
// where that box has ended, so that nothing is in its own way in the end. Every relation
// on the way is the exact one.
func TestBoxesApart(t *testing.T) {
	var seen [3]int
	for number := range scenes(t, 200) {
		r := rand.New(rand.NewSource(int64(number)))
		boxes := gridBoxes(r, 3+r.Intn(20))
		if number%2 == 0 {
			boxes = looseBoxes(r, 3+r.Intn(20))
		}
		s := scene{"boxes", boxes}
		m := measured(t, blocking.Settings{Pitch: 0.3}, s.triangles()...)
		for v, n := range checkRelations(t, m, s, number) {
			seen[v] += n
		}
		for _, d := range axes {
			if left := oneAtATime(m, along(t, m, d)); len(left) != 0 {
				t.Errorf("boxes %d: %v do not come apart along %v", number, left, d)
			}
		}
		a, err := m.Disassemble(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		checkAccount(t, m, a)
		if len(a.Locked) != 0 {
			t.Errorf("boxes %d: locked %v", number, a.Locked)
		}
		for _, move := range a.Moves {
			if len(move.Legs) != 1 {
				t.Errorf("boxes %d: %v leaves by %d legs, one is enough", number, move.Pieces, len(move.Legs))
			}
		}
	}
	if t.Logf("relations: %d free, %d blocked, %d too narrow to tell", seen[free], seen[blocked], seen[either]); seen[free] == 0 || seen[blocked] == 0 {
		t.Error("not all kinds of relations came up")
	}
}

// looseBoxes lie anywhere as long as they do not overlap.
func looseBoxes(r *rand.Rand, n int) (boxes []*convex) {
	for range 1000 {
		at := vec{30 * r.Float64(), 30 * r.Float64(), 30 * r.Float64()}
		b := boxOf(at, plus(at, vec{1 + 9*r.Float64(), 1 + 9*r.Float64(), 1 + 9*r.Float64()}))
		if len(boxes) < n && !slices.ContainsFunc(boxes, func(c *convex) bool { return apart(b, c) < 0 }) {
			boxes = append(boxes, b)
		}
	}
	return boxes
}

// TestPlateApart: convex pieces of a plate come apart one at a time in every
// direction in its plane. L. J. Guibas and F. F. Yao, "On translating a set of
// rectangles", 12th Annual ACM Symposium on Theory of Computing (1980) 154-160.
func TestPlateApart(t *testing.T) {
	for number := range scenes(t, 100) {
		r := rand.New(rand.NewSource(int64(number)))
		pieces := []*convex{boxOf(vec{}, vec{20, 15, 3})}
		for len(pieces) < 8 {
			i := r.Intn(len(pieces))
			sin, cos := math.Sincos(2 * math.Pi * r.Float64())
			d := vec{cos, sin, 0}
			low, high := pieces[i].extent(d)
			below, over := pieces[i].split(d, low+(0.2+0.6*r.Float64())*(high-low))
			if below != nil && !below.thin() && !over.thin() {
				pieces[i] = below
				pieces = append(pieces, over)
			}
		}
		m := measured(t, blocking.Settings{Pitch: 0.3}, scene{"plate", pieces}.triangles()...)
		tried := 0
		for i, d := range m.Directions {
			if math.Abs(d[2]) < 1e-9 {
				tried++
				if left := oneAtATime(m, i); len(left) != 0 {
					t.Errorf("plate %d: %v do not come apart along %.6f", number, left, d)
				}
			}
		}
		if tried <= 8 {
			t.Errorf("plate %d: %d directions in its plane; want more than the eight neighbours, from its cuts", number, tried)
		}
	}
}

// TestMirrored: mirrored scenes have mirrored relations and come apart in as many
// moves.
func TestMirrored(t *testing.T) {
	mirror := func(p pose) pose {
		m := p
		m.name += ", mirrored"
		for k := range 3 {
			m.turn[0][k] = -p.turn[0][k]
		}
		m.move[0] = -p.move[0]
		return m
	}
	var all []*cells
	for _, f := range kitstest.Some(t, 4, fixtures) {
		all = append(all, f.cells(2, poses()[1]), f.cells(2, poses()[3]))
	}
	for number := range scenes(t, 100) {
		c := randomCells(rand.New(rand.NewSource(int64(1000 + number))))
		c.name = fmt.Sprint("scene ", 1000+number)
		all = append(all, c)
	}
	for _, c := range all {
		other := *c
		other.pose = mirror(c.pose)
		m := measured(t, blocking.Settings{Pitch: 0.3}, c.triangles()...)
		n := measured(t, blocking.Settings{Pitch: 0.3}, other.triangles()...)
		for _, d := range axes {
			i, j := along(t, m, c.toModel(d)), along(t, n, other.toModel(d))
			for a := range c.pieces {
				for b := range c.pieces {
					if a != b && m.Blocks(a, b, i) != n.Blocks(a, b, j) {
						t.Errorf("%s, %s: %d leaves along %v past %d: %s; mirrored: %s", c.name, c.pose.name, a, d, b, relation(m.Blocks(a, b, i)), relation(n.Blocks(a, b, j)))
					}
				}
			}
		}
		x, y := checkCellsApart(t, m, c), checkCellsApart(t, n, &other)
		if len(x.Moves) != len(y.Moves) || len(x.Locked) != len(y.Locked) {
			t.Errorf("%s, %s: %d moves and %d locked groups; mirrored: %d and %d", c.name, c.pose.name, len(x.Moves), len(x.Locked), len(y.Moves), len(y.Locked))
		}
	}
}

// TestScaled: a scene and pitch that are scaled by powers of two have the same
// relations, also where the overlap is about as wide as the pitch: the numbers are
// the same but for their exponents.
func TestScaled(t *testing.T) {
	for number := range scenes(t, 50) {
		s := numberedScene(number)
		var models []*blocking.Model
		for _, scale := range []float64{1, 8, 0.125} {
			var lists [][]mesh.Triangle
			for _, list := range s.triangles() {
				lists = append(lists, meshtest.Transform(list, meshtest.Identity, vec{}, scale))
			}
			models = append(models, measured(t, blocking.Settings{Pitch: 0.3 * scale}, lists...))
		}
		for k, m := range models[1:] {
			if len(m.Directions) != len(models[0].Directions) {
				t.Errorf("scene %d (%s): %d directions, scaled %d", number, s.kind, len(models[0].Directions), len(m.Directions))
				continue
			}
			for i, d := range m.Directions {
				if norm(sub(d, models[0].Directions[i])) > 1e-9 {
					t.Errorf("scene %d (%s): direction %v, scaled %v", number, s.kind, models[0].Directions[i], d)
				}
				for a := range s.solids {
					for b := range s.solids {
						if a != b && m.Blocks(a, b, i) != models[0].Blocks(a, b, i) {
							t.Errorf("scene %d (%s), scaled by %g: %d leaves along %.6f past %d: %s; not scaled: %s", number, s.kind,
								[]float64{8, 0.125}[k], a, d, b, relation(m.Blocks(a, b, i)), relation(models[0].Blocks(a, b, i)))
						}
					}
				}
			}
		}
	}
}
