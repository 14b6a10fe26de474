package health

import (
	"context"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
)

func surfaceOf(t *testing.T, list []mesh.Triangle) *surface {
	t.Helper()
	m, err := mesh.FromTriangles("part", list)
	if err != nil {
		t.Fatal(err)
	}
	s, err := welded(m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func randomTriangles(r *rand.Rand, n int, size float64) (list []mesh.Triangle) {
	for range n {
		var t mesh.Triangle
		at := geom.Vec{10 * r.Float64(), 10 * r.Float64(), 10 * r.Float64()}
		for c := range t {
			for k := range 3 {
				t[c][k] = float32(at[k] + size*r.NormFloat64())
			}
		}
		list = append(list, t)
	}
	return list
}

// The tree finds the pairs that looking at all pairs finds.
func TestTreeMissesNoMeeting(t *testing.T) {
	by := slack{1e-5, 1e-3}
	for seed := range uint64(5) {
		r := rand.New(rand.NewPCG(seed, 1))
		list := slices.Concat(randomTriangles(r, 300, 1), randomTriangles(r, 600, 0.2), torus(20, 10, 3, 1), moved(torus(17, 9, 3, 1), 2, 1, 0.5))
		s := surfaceOf(t, list)
		want := map[string]bool{}
		var facets []facet
		for i := range s.faces {
			var f facet
			if s.facet(&f, i, by.tiny) {
				facets = append(facets, f)
			}
		}
		for i := range facets {
			for j := i + 1; j < len(facets); j++ {
				if _, _, ok := meet(&facets[i], &facets[j], by); ok && !known(&facets[i], &facets[j]) {
					want[pair(facets[i].face, facets[j].face)] = true
				}
			}
		}
		found := newTree(context.Background(), s).meetings(by, s.fans(s.edges()))
		if len(want) < 100 || found.more || found.given {
			t.Fatalf("%d pairs wanted, more %v, given up %v", len(want), found.more, found.given)
		}
		for _, m := range found.list {
			if !want[pair(m.a, m.b)] {
				t.Errorf("pair %d %d was found but is none", m.a, m.b)
			}
			delete(want, pair(m.a, m.b))
		}
		if len(want) > 0 {
			t.Errorf("%d pairs were not found", len(want))
		}
	}
}

// known reports that two triangles are the same, or neighbours that do not fold back.
func known(a, b *facet) bool {
	shared := 0
	for _, c := range a.corner {
		if slices.Contains(b.corner[:], c) {
			shared++
		}
	}
	return shared == 3 || shared == 2 && unfolded(a, b)
}

func pair(a, b int) string { return fmt.Sprint(min(a, b), " ", max(a, b)) }

// meet agrees with exact arithmetic wherever no corner is near a plane: two
// triangles cut each other if a side of one goes through the other.
func TestMeetAgainstExactArithmetic(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	by := slack{1e-9, 1e-9}
	count := 0
	for range kitstest.Rounds(t, 5000, 1500) {
		list := randomTriangles(r, 2, 3)
		s := surfaceOf(t, list)
		var a, b facet
		if !s.facet(&a, 0, by.tiny) || !s.facet(&b, 1, by.tiny) {
			continue
		}
		_, _, got := meet(&a, &b, by)
		if want := exactlyMeet(&list[0], &list[1]); got != want {
			t.Fatalf("%v: meet says %v, exact arithmetic %v", list, got, want)
		}
		if got {
			count++
		}
	}
	if count < 50 {
		t.Errorf("only %d pairs met", count)
	}
}

func exactlyMeet(a, b *mesh.Triangle) bool {
	for k := range 3 {
		if exactlyThrough(a[k], a[(k+1)%3], b) || exactlyThrough(b[k], b[(k+1)%3], a) {
			return true
		}
	}
	return false
}

// exactlyThrough reports whether the side from p to q goes through a triangle.
func exactlyThrough(p, q [3]float32, t *mesh.Triangle) bool {
	if volumeSign(t[0], t[1], t[2], p)*volumeSign(t[0], t[1], t[2], q) >= 0 {
		return false
	}
	x, y, z := volumeSign(p, q, t[0], t[1]), volumeSign(p, q, t[1], t[2]), volumeSign(p, q, t[2], t[0])
	return x == y && y == z
}

// volumeSign is the sign of the volume of a meshtest.Tetrahedron, without rounding.
func volumeSign(a, b, c, d [3]float32) int {
	var m [3][3]*big.Rat
	for i, p := range [3][3]float32{b, c, d} {
		for k := range 3 {
			x, y := new(big.Rat).SetFloat64(float64(p[k])), new(big.Rat).SetFloat64(float64(a[k]))
			m[i][k] = x.Sub(x, y)
		}
	}
	minor := func(r, s int) *big.Rat {
		x, y := new(big.Rat).Mul(m[1][r], m[2][s]), new(big.Rat).Mul(m[1][s], m[2][r])
		return x.Sub(x, y)
	}
	sum := new(big.Rat)
	for k := range 3 {
		sum.Add(sum, new(big.Rat).Mul(m[0][k], minor((k+1)%3, (k+2)%3)))
	}
	return sum.Sign()
}

// What touches does not meet; what overlaps by a little does.
func TestTouchingIsNotMeeting(t *testing.T) {
	flat := mesh.Triangle{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}
	for name, tt := range map[string]struct {
		other mesh.Triangle
		want  bool
	}{
		"apart":                   {mesh.Triangle{{0, 0, 1}, {4, 0, 1}, {0, 4, 2}}, false},
		"corner on the face":      {mesh.Triangle{{1, 1, 0}, {1, 1, 3}, {2, 1, 3}}, false},
		"corner through the face": {mesh.Triangle{{1, 1, -0.1}, {1, 1, 3}, {2, 1, 3}}, true},
		"side on the face":        {mesh.Triangle{{0.5, 1, 0}, {2, 1, 0}, {1, 1, 3}}, false},
		"side along a side":       {mesh.Triangle{{1, 0, 0}, {3, 0, 0}, {1, -1, 2}}, false},
		"through a corner":        {mesh.Triangle{{0, 0, -1}, {0, 0, 1}, {-2, -2, 0}}, false},
		"beside in the plane":     {mesh.Triangle{{4, 0, 0}, {4, 4, 0}, {0, 4, 0}}, false},
		"part of a side":          {mesh.Triangle{{3, 0, 0}, {1, 0, 0}, {2, -3, 0}}, false},
		"corner on a side":        {mesh.Triangle{{2, 0, 0}, {3, -2, 0}, {1, -2, 0}}, false},
		"over a side":             {mesh.Triangle{{2, 0.1, 0}, {3, -2, 0}, {1, -2, 0}}, true},
		"inside in the plane":     {mesh.Triangle{{1, 1, 0}, {1.5, 1, 0}, {1, 1.5, 0}}, true},
		"same, other way round":   {mesh.Triangle{{0, 0, 0}, {0, 4, 0}, {4, 0, 0}}, true},
		"one corner in common":    {mesh.Triangle{{0, 0, 0}, {-1, 3, 1}, {-3, -1, -1}}, false},
		"common corner, through":  {mesh.Triangle{{0, 0, 0}, {2, 2, 1}, {2, 2, -1}}, true},
		"common side, bent":       {mesh.Triangle{{0, 0, 0}, {4, 0, 0}, {1, 1, 1}}, false},
	} {
		t.Run(name, func(t *testing.T) {
			s := surfaceOf(t, []mesh.Triangle{flat, tt.other})
			var a, b facet
			if !s.facet(&a, 0, 1e-6) || !s.facet(&b, 1, 1e-6) {
				t.Fatal("thin")
			}
			_, _, one := meet(&a, &b, slack{1e-6, 1e-3})
			_, _, two := meet(&b, &a, slack{1e-6, 1e-3})
			if one != tt.want || two != tt.want {
				t.Errorf("meet says %v and %v, want %v", one, two, tt.want)
			}
		})
	}
}

func TestRayFindsWhatAllTrianglesTell(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	s := surfaceOf(t, randomTriangles(r, 700, 1))
	tr := newTree(context.Background(), s)
	tr.exactly()
	for range 300 {
		var from, dir geom.Vec
		for k := range 3 {
			from[k], dir[k] = 10*r.Float64(), r.NormFloat64()
		}
		if r.IntN(4) == 0 {
			dir = geom.Vec{0, 0, 1}
		}
		ray := newRay(from, dir)
		var got, want []int
		tr.cast(ray, math.MaxInt, func(c crossed) { got = append(got, c.face) })
		for i, f := range s.faces {
			if _, _, ok := ray.through(&s.corners[f[0]], &s.corners[f[1]], &s.corners[f[2]]); ok {
				want = append(want, i)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Fatalf("ray %v %v goes through %v, want %v", from, dir, got, want)
		}
	}
}

// All triangles in one place: the work is bounded and said to be.
func TestHostileHeapsEnd(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	var list []mesh.Triangle
	for range 30_000 {
		a, b := r.Float64()*2*math.Pi, r.Float64()*math.Pi
		p := [3]float32{float32(math.Cos(a) * math.Sin(b)), float32(math.Sin(a) * math.Sin(b)), float32(math.Cos(b))}
		list = append(list, mesh.Triangle{p, {-p[0], -p[1], -p[2]}, {p[1], p[2], p[0]}})
	}
	h := mustHealth(t, list, Options{Walls: true})
	if isSound(h) || h.Closed {
		t.Errorf("sound %v, closed %v", isSound(h), h.Closed)
	}
	for _, kind := range []string{mesh.OpenEdges, mesh.Overlap, mesh.Unchecked} {
		if !slices.ContainsFunc(h.Problems, func(p mesh.Problem) bool { return p.Kind == kind }) {
			t.Errorf("no problem %s among %s", kind, kinds(h))
		}
	}
}

// A ray that runs along a side of a box meets it, whichever sign a direction of zero has.
func TestRayAlongTheSideOfABox(t *testing.T) {
	minus := math.Copysign(0, -1)
	for _, dir := range []geom.Vec{{0, 0, 1}, {minus, 0, 1}, {0, minus, 1}, {minus, minus, 1}} {
		for _, from := range []geom.Vec{{0, 0.5, -1}, {1, 0.5, -1}, {0.5, 0, -1}, {0.5, 1, -1}, {0, 0, -1}, {1, 1, -1}} {
			if near, ok := newRay(from, dir).meets(&box3{max: [3]float32{1, 1, 1}}); !ok || near != 1 {
				t.Errorf("from %v along %v: %v, %v, want a hit after 1 mm", from, dir, near, ok)
			}
		}
	}
}
