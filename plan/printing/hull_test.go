package printing

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
)

// randomSolid is a cloud of points: on a ball, in a box, on a few planes, or with many
// copies and points along edges, so that much is coplanar.
func randomSolid(rng *rand.Rand, n int) []geom.Vec {
	stretch := geom.Vec{10 + 90*rng.Float64(), 10 + 90*rng.Float64(), 10 + 90*rng.Float64()}
	kind := rng.Intn(4)
	var list []geom.Vec
	for range n {
		p := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		switch kind {
		case 0:
			p = p.Unit()
		case 1:
			p = geom.Vec{rng.Float64(), rng.Float64(), rng.Float64()}
		case 2:
			p = geom.Vec{float64(rng.Intn(3)), float64(rng.Intn(3)), float64(rng.Intn(3))}
		case 3:
			p = geom.Vec{rng.Float64(), rng.Float64(), rng.Float64()}
			p[rng.Intn(3)] = float64(rng.Intn(2))
		}
		for k := range 3 {
			p[k] *= stretch[k]
		}
		list = append(list, p)
	}
	if rng.Intn(2) == 0 {
		t := around(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		for i, p := range list {
			q := t.apply(p)
			list[i] = geom.Vec{float64(float32(q[0])), float64(float32(q[1])), float64(float32(q[2]))}
		}
	}
	return list
}

// A hull extends as far as its points along every direction, its corners are of
// them, and no point lies in front of one of its flat faces.
func TestHullHoldsAllPoints(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for round := range 400 {
		points := randomSolid(rng, 4+rng.Intn(200))
		h := hullOf(points, 0)
		known := map[geom.Vec]bool{}
		for _, p := range points {
			known[p] = true
		}
		for _, p := range h.Points {
			if !known[p] {
				t.Fatalf("round %d: the corner %v is none of the points", round, p)
			}
		}
		for _, d := range directions(100) {
			if all, some := reach(points, d), reach(h.Points, d); all-some > 1e-6*(1+math.Abs(all)) {
				t.Fatalf("round %d: along %v the points reach %g, the hull %g", round, d, all, some)
			}
		}
		for _, f := range h.Facets {
			if over := reach(points, f.Normal) - f.Normal.Dot(f.faces[0][0]); over > 1e-4 {
				t.Fatalf("round %d: a point lies %g mm in front of a flat face", round, over)
			}
		}
	}
}

func reach(points []geom.Vec, d geom.Vec) float64 {
	most := math.Inf(-1)
	for _, p := range points {
		most = max(most, p.Dot(d))
	}
	return most
}

// The flat faces of a box, however it is turned and however finely its faces are cut,
// are its six sides; they close around it.
func TestHullFacetsOfBox(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	for range 50 {
		turn := around(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		var points []geom.Vec
		for x := range 6 {
			for y := range 6 {
				for z := range 6 {
					p := turn.apply(geom.Vec{float64(x) * 8, float64(y) * 4, float64(z) * 2})
					points = append(points, geom.Vec{float64(float32(p[0])), float64(float32(p[1])), float64(float32(p[2]))})
				}
			}
		}
		h := hullOf(points, 0)
		if len(h.Facets) != 6 || len(h.Points) < 8 {
			t.Fatalf("%d flat faces and %d corners, want 6 and 8 or a few more", len(h.Facets), len(h.Points))
		}
		for i, want := range []float64{800, 800, 400, 400, 200, 200} { // 40 x 20, 40 x 10, 20 x 10 mm
			if math.Abs(h.Facets[i].Area-want) > 0.01 {
				t.Errorf("face %d has %g mm2, want %g", i, h.Facets[i].Area, want)
			}
		}
	}
}

// Points on a plane, a line or a point have no hull with an inside; what reaches
// farthest is still kept.
func TestHullOfFlatThings(t *testing.T) {
	var plane, line []geom.Vec
	for i := range 10 {
		line = append(line, geom.Vec{float64(i), 2 * float64(i), 0})
		for j := range 10 {
			plane = append(plane, geom.Vec{float64(i), float64(j), float64(i + j)})
		}
	}
	for _, points := range [][]geom.Vec{plane, line, {{1, 2, 3}}, {{1, 2, 3}, {1, 2, 3}}} {
		h := hullOf(points, 0)
		if h.Facets != nil {
			t.Errorf("%d flat faces", len(h.Facets))
		}
		for _, d := range directions(60) {
			if reach(points, d)-reach(h.Points, d) > 0.05 {
				t.Errorf("along %v the hull reaches %g, the points %g", d, reach(h.Points, d), reach(points, d))
			}
		}
	}
}

// A part read in many blocks has the hull that it has in one, to within its slack.
func TestHullInBlocks(t *testing.T) {
	round := kitstest.Rounds(t, 400, 160) // facets round the ball
	ball := meshtest.Sphere(40, round, 3*round/4)
	var m hullMaker
	var points []geom.Vec
	for i := 0; i < len(ball); i += 4096 {
		m.add(ball[i:min(i+4096, len(ball))])
	}
	for _, tri := range ball {
		for _, p := range tri {
			points = append(points, geom.Point(p))
		}
	}
	h := m.hull()
	for _, d := range directions(60) {
		if lack := reach(points, d) - reach(h.Points, d); lack > h.Slack {
			t.Errorf("along %v the hull lacks %g mm; its slack is %g", d, lack, h.Slack)
		}
	}
	if h.Slack > 0.5 || len(h.Points) > maxCorners {
		t.Errorf("%d corners and a slack of %g mm for a ball of %d triangles", len(h.Points), h.Slack, len(ball))
	}
}
