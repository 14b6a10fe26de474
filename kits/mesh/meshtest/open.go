package meshtest

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/scan"
	"dryfit/kits/mesh/stl"
)

// Open reads the meshes of a file in memory; its name gives the format.
func Open(t testing.TB, name string, data []byte, o files.Options) []*mesh.Mesh {
	t.Helper()
	list, err := files.Read(scan.InMemory(name, data), o)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// WantFault checks that a file is rejected with the given words.
func WantFault(t testing.TB, name string, data []byte, words string) {
	t.Helper()
	list, err := files.Read(scan.InMemory(name, data), files.Options{})
	if err == nil {
		t.Fatalf("read %d meshes; want the fault %q", len(list), words)
	}
	if !strings.Contains(err.Error(), words) {
		t.Errorf("fault %q does not say %q", err, words)
	}
}

// Triangles lists the triangles of a mesh.
func Triangles(t testing.TB, m *mesh.Mesh) []mesh.Triangle {
	t.Helper()
	var list []mesh.Triangle
	err := m.Blocks(func(_ int, block []mesh.Triangle) error {
		list = append(list, block...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// STL is the bytes of a binary file.
func STL(list ...mesh.Triangle) []byte {
	var b bytes.Buffer
	if err := stl.Write(&b, list); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// Tetrahedron is the right one with sides 1: volume 1/6, area 3/2 + sqrt(3)/2.
var Tetrahedron = []mesh.Triangle{
	{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}},
	{{0, 0, 0}, {1, 0, 0}, {0, 0, 1}},
	{{0, 0, 0}, {0, 0, 1}, {0, 1, 0}},
	{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
}

// TetrahedronSTL is the same as a text file.
const TetrahedronSTL = `solid tetra
 facet normal 0 0 -1
  outer loop
   vertex 0 0 0
   vertex 0 1 0
   vertex 1 0 0
  endloop
 endfacet
 facet normal 0 -1 0
  outer loop
   vertex 0 0 0
   vertex 1 0 0
   vertex 0 0 1
  endloop
 endfacet
 facet normal nan nan nan
  outer loop
   vertex -0 0 0
   vertex 0 0 1
   vertex 0 1.0 0
  endloop
 endfacet
 facet normal 1 1 1
  outer loop
   vertex 1 0 0
   vertex 0 +1e0 0
   vertex 0 0 100E-2
  endloop
 endfacet
endsolid tetra
`

// WantTetrahedron checks the measures of the tetrahedron, scaled.
func WantTetrahedron(t testing.TB, m *mesh.Mesh, scale float64) {
	t.Helper()
	if m.Len() != 4 {
		t.Fatalf("%d triangles, want 4", m.Len())
	}
	WantNear(t, "volume", m.Volume, scale*scale*scale/6)
	WantNear(t, "area", m.Area, scale*scale*2.3660254037844386)
	for k := range 3 {
		WantNear(t, "centre", m.Centre[k], scale/4)
		WantNear(t, "size", m.Size()[k], scale)
	}
}

// WantNear checks a number to six digits.
func WantNear(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*max(1, math.Abs(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// Names lists the names of meshes.
func Names(list []*mesh.Mesh) (all []string) {
	for _, m := range list {
		all = append(all, m.Name)
	}
	return all
}
