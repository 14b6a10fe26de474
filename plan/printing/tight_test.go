package printing

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh/meshtest"
)

// A cube that fits a bed with a little to spare fits it however it stands in the model,
// near its origin or far from it.
func TestTightCubeFits(t *testing.T) {
	rng := rand.New(rand.NewSource(255))
	for n := range 300 {
		size := 255 + 0.95*rng.Float64()
		if n%3 == 0 {
			size = 255.7
		}
		turn := meshtest.RandomRotation(rng)
		if n%2 == 0 {
			turn = matrix(about(n/2%3, rng.Float64()*math.Pi))
		}
		away := 3000 * rng.Float64()
		solid := meshtest.Transform(meshtest.Box([3]float64{0, 0, 0}, [3]float64{size, size, size}), turn, [3]float64{away, 40, -away}, 1)
		if f := Fit(hullOfMesh(t, meshOf(t, solid)), geom.Vec{256, 256, 256}); f.Way == TooLarge {
			t.Errorf("of %.4f mm, it sticks out by %v", size, f.Over)
		}
	}
}
