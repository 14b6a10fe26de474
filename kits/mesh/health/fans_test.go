package health

import (
	"math"
	"math/rand/v2"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Cones over random rims, some of which cross themselves or go around twice: where the apex
// is said to have a fan, no two triangles around it meet.
func TestTrianglesOfAFanDoNotMeet(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	by := slack{1e-9, 1e-7}
	fans, crossed := 0, 0
	for range 4000 {
		s := surfaceOf(t, cone(r))
		fan := s.fans(s.edges())
		apex := s.faces[0][0]
		meets := false
		for i := range s.faces {
			for j := range i {
				var a, b facet
				if !holds(s.faces[i], apex) || !holds(s.faces[j], apex) ||
					!s.facet(&a, i, by.tiny) || !s.facet(&b, j, by.tiny) || known(&a, &b) {
					continue
				}
				_, _, ok := meet(&a, &b, by)
				meets = meets || ok
			}
		}
		switch {
		case fan[apex] && meets:
			t.Fatalf("triangles of a fan meet: %v", s.corners)
		case fan[apex]:
			fans++
		case meets:
			crossed++
		}
	}
	if fans < 300 || crossed < 300 {
		t.Errorf("only %d fans, and %d apexes whose triangles meet", fans, crossed)
	}
}

func holds(face [3]uint32, corner uint32) bool {
	return face[0] == corner || face[1] == corner || face[2] == corner
}

// cone has an apex at the origin, a random rim below it that goes around once or twice, and
// a bottom far below, so that all its edges have two sides.
func cone(r *rand.Rand) (list []mesh.Triangle) {
	turns, n := 1+r.IntN(2), 4+r.IntN(6)
	steep := r.Float64()
	rim := make([][3]float32, n)
	for i := range rim {
		a := 2 * math.Pi * (float64(turns*i) + 0.9*r.NormFloat64()*r.Float64()) / float64(n)
		far := 1 + r.Float64()
		rim[i] = [3]float32{float32(far * math.Cos(a)), float32(far * math.Sin(a)), float32(-steep * r.Float64() * 2)}
	}
	low := [3]float32{0, 0, -100}
	for i := range rim {
		p, q := rim[i], rim[(i+1)%n]
		list = append(list, mesh.Triangle{{}, p, q}, mesh.Triangle{low, q, p})
	}
	return list
}

// A corner of a box is a fan, the apex of two cones that touch there is none, and neither is
// one at a rim.
func TestFans(t *testing.T) {
	for _, of := range []struct {
		name string
		list []mesh.Triangle
		want bool
	}{
		{"a pyramid", pyramid(1), true},
		{"one with its bottom open", pyramid(1)[:4], true},
		{"one with a side open", pyramid(1)[1:], false},
		{"one upside down on another", append(pyramid(1), pyramid(-1)...), false},
	} {
		t.Run(of.name, func(t *testing.T) {
			s := surfaceOf(t, of.list)
			fan := s.fans(s.edges())
			for c := range s.corners {
				if s.point(uint32(c)) == (geom.Vec{}) && fan[c] != of.want {
					t.Errorf("fan %v, want %v", fan[c], of.want)
				}
			}
		})
	}
}

// pyramid has its apex at the origin and stands, or for -1 hangs.
func pyramid(up float32) []mesh.Triangle {
	base := [4][3]float32{{-1, -1, -1}, {1, -1, -1}, {1, 1, -1}, {-1, 1, -1}}
	if up < 0 {
		base = [4][3]float32{{-1, -1, 1}, {-1, 1, 1}, {1, 1, 1}, {1, -1, 1}}
	}
	var list []mesh.Triangle
	for i := range 4 {
		list = append(list, mesh.Triangle{{}, base[i], base[(i+1)%4]})
	}
	return append(list, mesh.Triangle{base[0], base[2], base[1]}, mesh.Triangle{base[0], base[3], base[2]})
}
