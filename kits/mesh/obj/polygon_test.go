package obj

import (
	"math"
	"math/rand/v2"
	"testing"

	"dryfit/kits/geom"
)

// A polygon, however it lies in space, is cut into triangles that face as it does
// and have its area between them.
func TestPolygonsAreCutWhole(t *testing.T) {
	shapes := map[string][][2]float64{
		"square":               {{0, 0}, {1, 0}, {1, 1}, {0, 1}},
		"corner on a side":     {{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}},
		"triangle, all sides":  {{0, 0}, {1, 0}, {2, 0}, {1, 1}, {0, 2}, {0, 1}},
		"arrow":                {{0, 0}, {4, 2}, {0, 4}, {1, 2}},
		"L":                    {{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 4}, {0, 4}},
		"comb":                 {{0, 0}, {7, 0}, {7, 3}, {6, 3}, {6, 1}, {5, 1}, {5, 3}, {4, 3}, {4, 1}, {3, 1}, {3, 3}, {2, 3}, {2, 1}, {1, 1}, {1, 3}, {0, 3}},
		"hole by a bridge":     {{0, 0}, {6, 0}, {6, 6}, {0, 6}, {0, 0}, {2, 2}, {2, 4}, {4, 4}, {4, 2}, {2, 2}},
		"spiral":               {{0, 0}, {8, 0}, {8, 8}, {2, 8}, {2, 3}, {5, 3}, {5, 5}, {4, 5}, {4, 4}, {3, 4}, {3, 7}, {7, 7}, {7, 1}, {0, 1}},
		"star, twice as sharp": star(rand.New(rand.NewPCG(1, 2)), 40),
		"many teeth":           star(rand.New(rand.NewPCG(3, 4)), 1001),
	}
	for name, shape := range shapes {
		t.Run(name, func(t *testing.T) {
			for axis := range 6 {
				wantCut(t, shape, axis)
			}
		})
	}
}

func star(r *rand.Rand, n int) (p [][2]float64) {
	for i := range n {
		a, d := 2*math.Pi*float64(i)/float64(n), 1+9*r.Float64()
		p = append(p, [2]float64{math.Round(d*math.Cos(a)*64) / 64, math.Round(d*math.Sin(a)*64) / 64})
	}
	return p
}

// wantCut lays the shape across an axis, seen from either end, tilted a little.
func wantCut(t *testing.T, shape [][2]float64, axis int) {
	t.Helper()
	var p [][3]float32
	area := 0.0
	for i, q := range shape {
		next := shape[(i+1)%len(shape)]
		area += (q[0]*next[1] - q[1]*next[0]) / 2
		var c [3]float32
		c[axis%3], c[(axis+1)%3], c[(axis+2)%3] = float32(q[0]+q[1])/4, float32(q[0]), float32(q[1])
		if axis >= 3 {
			c[(axis+1)%3], c[(axis+2)%3] = c[(axis+2)%3], c[(axis+1)%3]
		}
		p = append(p, c)
	}
	n := newell(p)
	var cut cutter
	count, sum := 0, 0.0
	err := cut.cut(p, func(i, j, k int) {
		x := geom.Point(p[j]).Minus(geom.Point(p[i])).Cross(geom.Point(p[k]).Minus(geom.Point(p[i])))
		count++
		sum += x.Length() / 2
		if x.Dot(n) < 0 {
			t.Errorf("axis %d: triangle %d %d %d faces the other way", axis, i, j, k)
		}
	})
	if err != nil {
		t.Fatalf("axis %d: %v", axis, err)
	}
	if count != len(p)-2 {
		t.Errorf("axis %d: %d triangles of %d corners", axis, count, len(p))
	}
	if want := area * math.Sqrt(1+1.0/8); math.Abs(sum-want) > 1e-6*want {
		t.Errorf("axis %d: area %v, want %v", axis, sum, want)
	}
}
