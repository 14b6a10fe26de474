package raster

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
)

// A plane cut into triangles around random places meets each line once, at the height of
// the plane.
func TestTriangle(t *testing.T) {
	rng := rand.New(rand.NewSource(4))
	for range 200 {
		g := Over(20, 15, 0.1+rng.Float64())
		w, d := float64(g.NX)*g.Pitch, float64(g.NY)*g.Pitch
		slope := [2]float64{rng.NormFloat64(), rng.NormFloat64()}
		at := func(x, y float64) geom.Vec { return geom.Vec{x, y, 3 + slope[0]*x + slope[1]*y} }
		ring := []geom.Vec{at(0, 0), at(w*rng.Float64(), 0), at(w, 0), at(w, d*rng.Float64()), at(w, d), at(w*rng.Float64(), d), at(0, d), at(0, d*rng.Float64())}
		middle := at(w*rng.Float64(), d*rng.Float64())
		if rng.Intn(2) == 0 { // on a line
			x, y := g.Middle(rng.Intn(g.Cells()))
			middle = at(x, y)
		}
		count := make([]int, g.Cells())
		for i, p := range ring {
			g.Triangle(&[3]geom.Vec{middle, p, ring[(i+1)%len(ring)]}, func(cell int, z float64) {
				count[cell]++
				if x, y := g.Middle(cell); g.Cell(x, y) != cell || math.Abs(z-at(x, y)[2]) > 1e-6 {
					t.Errorf("cell %d: %g, should be %g", cell, z, at(x, y)[2])
				}
			})
		}
		for cell, n := range count {
			if n != 1 {
				t.Fatalf("the line of cell %d is met %d times", cell, n)
			}
		}
	}
}
