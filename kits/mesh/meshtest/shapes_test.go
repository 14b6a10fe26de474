package meshtest_test

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/mesh"
	. "dryfit/kits/mesh/meshtest"
)

// counts are corners, edges and faces, and whether each edge is run through as
// often in one sense as in the other, and how often at most.
func counts(list []mesh.Triangle) (v, e, f int, balanced bool, most int) {
	corners := map[[3]float32]bool{}
	runs := map[[2][3]float32]int{}
	for _, t := range list {
		for k := range t {
			corners[t[k]] = true
			runs[[2][3]float32{t[k], t[(k+1)%3]}]++
		}
	}
	balanced = true
	seen := map[[2][3]float32]bool{}
	for edge, n := range runs {
		back := [2][3]float32{edge[1], edge[0]}
		balanced = balanced && runs[back] == n && edge[0] != edge[1]
		most = max(most, n)
		if !seen[back] {
			seen[edge] = true
		}
	}
	return len(corners), len(seen), len(list), balanced, most
}

// TestShapes: closed, turned outwards, and as large as closed forms say.
func TestShapes(t *testing.T) {
	square := [][2]float64{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	comb := [][2]float64{{0, 0}, {0, 5}, {1, 5}, {1, 1}, {2, 1}, {2, 5}, {3, 5}, {3, 1}, {4, 1}, {4, 5}, {5, 5}, {5, 0}, {3, 0}} // clockwise, one corner on a side
	area := func(n int, r float64) float64 { return float64(n) / 2 * math.Sin(2*math.Pi/float64(n)) * r * r }
	ring, err := mesh.FromTriangles("", Torus(3, 1, 24, 16))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		list   []mesh.Triangle
		euler  int
		volume float64
	}{
		{"box", Box([3]float64{-1, 2, 3}, [3]float64{4, 6, 8}), 2, 100},
		{"comb", Prism(comb, -1, 1), 2, 2 * (25 - 8)},
		{"plate with three holes", Extrude(square, [][][2]float64{Circle([2]float64{3, 3}, 1, 8), {{6, 2}, {8, 2}, {8, 4}, {6, 4}}, {{2, 6}, {8, 7}, {4, 9}}}, 0, 2), -4, 2 * (100 - area(8, 1) - 4 - 8)},
		{"plate with a grid of holes", Extrude(square, grid(), 0, 1), 2 - 2*9, 100 - 9},
		{"pocket", Pocket(square, Circle([2]float64{4, 5}, 2, 12), 0, 1, 3), 2, 300 - 2*area(12, 2)},
		{"cylinder", Cylinder(2, 0, 3, 48), 2, 3 * area(48, 2)},
		{"tube", Tube(5, 4, -1, 1, 36), 0, 2 * (area(36, 5) - area(36, 4))},
		{"cone", Frustum(3, 0, 0, 4, 12), 2, area(12, 3) * 4 / 3},
		{"cone upside down", Frustum(0, 3, 0, 4, 12), 2, area(12, 3) * 4 / 3},
		{"frustum", Frustum(4, 2, 0, 6, 20), 2, area(20, 1) * 2 * (16 + 8 + 4)},
		{"octahedron", Sphere(1, 4, 2), 2, 4.0 / 3},
		{"torus 24 x 16", Torus(3, 1, 24, 16), 0, 57.050358},
		{"torus turned at random", Transform(Torus(3, 1, 24, 16), RandomRotation(rand.New(rand.NewSource(1))), [3]float64{5, 6, 7}, 2), 0, 8 * ring.Volume},
		{"mirrored box", Transform(Box([3]float64{}, [3]float64{1, 2, 3}), [3][3]float64{{-1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, [3]float64{}, 1), 2, 6},
		{"box with a hollow", Merge(Box([3]float64{}, [3]float64{3, 3, 3}), Inverted(Box([3]float64{1, 1, 1}, [3]float64{2, 2, 2}))), 4, 26},
		{"hexagonal prism", Cylinder(1, 0, 2, 6), 2, 5.196152422706632},
		{"tromino", Cubes(Cells("000 100 010 000"), 2), 2, 24},
		{"frame of eight cells", Cubes(Cells("000 100 200 010 210 020 120 220"), 1), 0, 8},
	} {
		v, e, f, balanced, most := counts(c.list)
		if !balanced || most != 1 {
			t.Errorf("%s: an edge is not run through once in either sense", c.name)
		}
		if v-e+f != c.euler {
			t.Errorf("%s: V - E + F = %d - %d + %d = %d, want %d", c.name, v, e, f, v-e+f, c.euler)
		}
		m, err := mesh.FromTriangles("", c.list)
		if err != nil || m.Turned || math.Abs(m.Volume-c.volume) > 1e-5*c.volume {
			t.Errorf("%s: volume %.8g, want %.8g; inside out %v, error %v", c.name, m.Volume, c.volume, m.Turned, err)
		}
	}
}

// grid is nine square holes whose corners line up, which is hard on bridges.
func grid() (holes [][][2]float64) {
	for x := range 3 {
		for y := range 3 {
			a, b := float64(1+3*x), float64(1+3*y)
			holes = append(holes, [][2]float64{{a, b}, {a + 1, b}, {a + 1, b + 1}, {a, b + 1}})
		}
	}
	return holes
}

// TestRound: fine balls and half shells come close to the round ones.
func TestRound(t *testing.T) {
	for _, c := range []struct {
		name   string
		list   []mesh.Triangle
		volume float64
	}{
		{"ball", Sphere(10, 200, 100), 4.0 / 3 * math.Pi * 1000},
		{"half shell", HalfShell(10, 8, 200, 60), 2.0 / 3 * math.Pi * (1000 - 512)},
	} {
		v, e, f, balanced, most := counts(c.list)
		m, err := mesh.FromTriangles("", c.list)
		if err != nil || !balanced || most != 1 || v-e+f != 2 || m.Turned {
			t.Errorf("%s: not one closed surface turned outwards (error %v)", c.name, err)
		}
		if m.Volume > c.volume || m.Volume < 0.998*c.volume {
			t.Errorf("%s: volume %.5g, want just below %.5g", c.name, m.Volume, c.volume)
		}
	}
}

// TestCubesSharingAnEdge: both keep their faces there.
func TestCubesSharingAnEdge(t *testing.T) {
	v, e, f, balanced, most := counts(Cubes(Cells("000 110"), 1))
	if v != 14 || e != 35 || f != 24 || !balanced || most != 2 {
		t.Errorf("V %d E %d F %d, closed %v, at most %d times through an edge; want 14 35 24 true 2", v, e, f, balanced, most)
	}
}

// TestRandomRotation: rows of length one, at right angles, not mirrored.
func TestRandomRotation(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 100 {
		m := RandomRotation(r)
		for i := range 3 {
			for j := range 3 {
				var d float64
				for k := range 3 {
					d += m[i][k] * m[j][k]
				}
				want := 0.0
				if i == j {
					want = 1
				}
				if math.Abs(d-want) > 1e-12 {
					t.Fatalf("rows %d and %d: %g", i, j, d)
				}
			}
		}
		x := m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
		if math.Abs(x-1) > 1e-12 {
			t.Fatalf("determinant %g", x)
		}
	}
}
