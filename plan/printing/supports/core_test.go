package supports

import (
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// What is deeper than a wall in a box, a ball, a tube and a plate is a smaller one, or
// nothing.
func TestCore(t *testing.T) {
	for _, c := range []struct {
		name string
		list []mesh.Triangle
		wall float64
		want float64
	}{
		{"box", box(0, 0, 0, 40, 30, 20), 2, 36 * 26 * 16},
		{"ball", meshtest.Sphere(15, 80, 60), 3, 4 * math.Pi / 3 * 12 * 12 * 12},
		{"tube", meshtest.Tube(20, 10, 0, 30, 120), 2, math.Pi * (18*18 - 12*12) * 26},
		{"plate", box(0, 0, 0, 60, 60, 3.9), 2, 0},
	} {
		m := meshOf(t, c.list)
		p := &Part{Surface: m, Triangles: m.Len()}
		got, err := p.Core(t.Context(), m.Box, c.wall)
		if err != nil || math.Abs(got-c.want) > 0.06*c.want {
			t.Errorf("%s: %.0f mm3, should be %.0f; %v", c.name, got, c.want, err)
		}
	}
}
