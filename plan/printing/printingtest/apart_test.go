package printingtest_test

import (
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/printing/printingtest"
)

func box(x, y, w, d float64) []mesh.Triangle {
	return meshtest.Box([3]float64{x, y, 0}, [3]float64{x + w, y + d, 3})
}

func TestApart(t *testing.T) {
	ring := meshtest.Tube(20, 10, 0, 3, 96)
	for _, c := range []struct {
		name string
		b    []mesh.Triangle
		want float64
	}{
		{"beside", box(23, -2, 5, 4), 3},
		{"corner to corner", box(40, 40, 5, 5), math.Hypot(40, 40) - 20},
		{"in the hole", box(-4, -3, 8, 6), 5},
		{"over the wall", box(12, -1, 2, 2), 0},
		{"across", box(-30, -1, 60, 2), 0},
		{"round it", box(-50, -50, 100, 100), 0},
		{"far", box(500, 0, 2, 2), 60},
	} {
		for _, got := range []float64{printingtest.Apart(ring, c.b, 60), printingtest.Apart(c.b, ring, 60)} {
			if math.Abs(got-c.want) > 0.02 {
				t.Errorf("%s: %g mm apart, want %g", c.name, got, c.want)
			}
		}
	}
}
