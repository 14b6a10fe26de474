package mesh_test

import (
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// A scaled mesh is the mesh of the scaled triangles, by another name for its content.
func TestScaled(t *testing.T) {
	for _, by := range []float64{0.4, 1, 2.5} {
		m, err := mesh.FromTriangles("wedge", meshtest.Polyhedron([][3]float32{{5, -3, 40}, {25, -3, 40}, {5, 9, 40}, {5, -3, 48}},
			[]int{0, 2, 1}, []int{0, 1, 3}, []int{1, 2, 3}, []int{0, 3, 2}))
		if err != nil {
			t.Fatal(err)
		}
		s := m.Scaled(by)
		read := make([]mesh.Triangle, s.Len())
		if n, err := s.Read(0, read); n != m.Len() || err != nil {
			t.Fatalf("%d of %d triangles, %v", n, m.Len(), err)
		}
		want, err := mesh.FromTriangles("wedge", read)
		if err != nil {
			t.Fatal(err)
		}
		meshtest.WantNear(t, "volume", s.Volume/(by*by*by), want.Volume/(by*by*by))
		meshtest.WantNear(t, "area", s.Area/(by*by), want.Area/(by*by))
		for k := range 3 {
			if math.Abs(s.Min[k]-want.Min[k])+math.Abs(s.Max[k]-want.Max[k])+math.Abs(s.Centre[k]-want.Centre[k]) > 1e-4 {
				t.Errorf("by %g: box %v to %v about %v, want %v to %v about %v", by, s.Min, s.Max, s.Centre, want.Min, want.Max, want.Centre)
			}
		}
		if s.Hash == m.Hash {
			t.Errorf("by %g its content has the same name", by)
		}
	}
}
