package page

import (
	"encoding/binary"
	"testing"

	"dryfit/kits/mesh"
)

// TestDetail: a model of three million triangles is shown with fewer, said to be
// simpler, and turns with fewer still; a small one is shown as it is.
func TestDetail(t *testing.T) {
	if testing.Short() {
		t.Skip("it makes three million triangles")
	}
	rep, err := rings(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	m, shapes, err := build(rep, rep.Meshes.All(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !m.Simpler {
		t.Error("the page does not say that it is simpler")
	}
	var rest, turning uint32
	for _, s := range shapes {
		rest += binary.LittleEndian.Uint32(s[4:])
		turning += binary.LittleEndian.Uint32(s[8:])
	}
	if rest < maxTriangles/4 || rest > maxTriangles*5/4 || turning < turningTriangles/4 || turning > turningTriangles*5/4 {
		t.Errorf("%d triangles at rest, %d turning", rest, turning)
	}
	if g := grainsOf(rep.Meshes.Pieces[:1]); g.rest != 0 || g.turning == 0 {
		t.Errorf("one ring of 300,000 triangles: %+v", g)
	}
	if g := grainsOf([]*mesh.Mesh{}); g != (grains{}) {
		t.Errorf("no mesh: %+v", g)
	}
}
