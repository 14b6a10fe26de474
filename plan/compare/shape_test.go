package compare

import (
	"math/rand/v2"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

func meshOf(t *testing.T, list []mesh.Triangle) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles("m", list)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func moved(list []mesh.Triangle, by [3]float32, noise float32) []mesh.Triangle {
	r := rand.New(rand.NewPCG(6, 6))
	out := make([]mesh.Triangle, len(list))
	for i, t := range list {
		for c := range t {
			for k := range t[c] {
				out[i][c][k] = t[c][k] + by[k] + noise*(2*r.Float32()-1)
			}
		}
	}
	return out
}

// shuffled gives the triangles another sequence, and other corners to start with.
func shuffled(list []mesh.Triangle) []mesh.Triangle {
	r := rand.New(rand.NewPCG(7, 7))
	out := make([]mesh.Triangle, len(list))
	for i, to := range r.Perm(len(list)) {
		turn := r.IntN(3)
		for c := range 3 {
			out[to][c] = list[i][(c+turn)%3]
		}
	}
	return out
}

// What becomes of a print, for shapes whose difference is known by how they were made.
func TestJudge(t *testing.T) {
	ball := meshtest.Sphere(20, 60, 40) // 4,680 triangles: more than a block
	box := meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 20, 30})
	// The same box with the long diagonal of its faces: same measures, other triangles.
	mirrored := make([]mesh.Triangle, len(box))
	for i, tri := range box {
		for c := range tri {
			p := tri[2-c]
			mirrored[i][c] = [3]float32{10 - p[0], p[1], p[2]}
		}
	}
	for _, c := range []struct {
		name string
		a, b []mesh.Triangle
		want Verdict
		why  string
	}{
		{"the same", ball, ball, Good, ""},
		{"written anew", ball, shuffled(moved(ball, [3]float32{}, 2e-4)), Good, ""},
		{"moved", ball, moved(ball, [3]float32{100, -7.25, 0.5}, 0), Moved, "moved by [100, -7.25, 0.5] mm"},
		{"moved and written anew", ball, shuffled(moved(ball, [3]float32{3, 0, 0}, 2e-4)), Moved, "moved by [3, 0, 0] mm"},
		{"larger", box, meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 20, 30.1}), Redo, "its size was 10.00 x 20.00 x 30.00 mm and is now 10.00 x 20.00 x 30.10 mm"},
		{"hollowed", box, meshtest.Extrude([][2]float64{{0, 0}, {10, 0}, {10, 20}, {0, 20}}, [][][2]float64{{{4, 4}, {4, 5}, {5, 5}, {5, 4}}}, 0, 30), Redo, "its volume was 6000.0 mm3 and is now 5970.0 mm3"},
		{"other triangles", box, mirrored, Alike, "size, volume and area are the same, but its triangles are not"},
		{"one corner moved", ball, dented(ball), Alike, "size, volume and area are the same, but its triangles are not"},
	} {
		got, err := judge(meshOf(t, c.a), meshOf(t, c.b))
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict != c.want || !strings.HasPrefix(got.Why, c.why) {
			t.Errorf("%s: got %s, %q; want %s, %q", c.name, got.Verdict, got.Why, c.want, c.why)
		}
	}
}

// dented moves one corner of one triangle along the surface, by twice what is overlooked.
func dented(list []mesh.Triangle) []mesh.Triangle {
	out := append([]mesh.Triangle(nil), list...)
	out[700][1][2] += 2 * near
	return out
}

// A rising subsequence is marked that is as long as any, against all subsequences.
func TestLongestRising(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for range 500 {
		list := r.Perm(1 + r.IntN(9))
		best := 0
		for set := range 1 << len(list) {
			if n, rising := rises(list, func(i int) bool { return set>>i&1 == 1 }); rising {
				best = max(best, n)
			}
		}
		in := longestRising(list)
		if n, rising := rises(list, func(i int) bool { return in[i] }); !rising || n != best {
			t.Fatalf("%v: marked %v, want %d", list, in, best)
		}
	}
}

func rises(list []int, in func(i int) bool) (n int, rising bool) {
	last := -1
	for i, x := range list {
		if !in(i) {
			continue
		}
		if x < last {
			return n, false
		}
		n, last = n+1, x
	}
	return n, true
}
