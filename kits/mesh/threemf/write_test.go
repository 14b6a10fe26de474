package threemf_test

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/threemf"
)

func triangles(t *testing.T, m *mesh.Mesh) (list []mesh.Triangle) {
	t.Helper()
	err := m.Blocks(func(_ int, block []mesh.Triangle) error {
		list = append(list, block...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func cubes(t *testing.T, name string, edge float64) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles(name, meshtest.Cubes([][3]int{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}}, edge))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func writtenPackage(t *testing.T, title string, items []threemf.Item) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := threemf.Write(&b, title, items); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What is written reads back the same: names, triangles to the last bit, places.
func TestWrite(t *testing.T) {
	third := 1.0 / 3
	turn := geom.Transform{{0, 1, 0}, {-1, 0, 0}, {0, 0, 1}, {100.125, 20, 0}}
	items := []threemf.Item{
		{Name: `hull "port" <fore> & aft`, Number: "H01P", Mesh: cubes(t, "a", third), Place: geom.Scaling(1)},
		{Name: "bench-2", Mesh: cubes(t, "b", 1e-3), Place: turn},
	}
	data := writtenPackage(t, "Plate 1 \x01", items)
	list := open3MF(t, data)
	if len(list) != len(items) {
		t.Fatalf("%d meshes, want %d", len(list), len(items))
	}
	for i, m := range list {
		if m.Name != items[i].Name {
			t.Errorf("name %q, want %q", m.Name, items[i].Name)
		}
		want := triangles(t, items[i].Mesh)
		for n := range want {
			for k, c := range want[n] {
				want[n][k] = items[i].Place.Apply(geom.Point(c)).Single()
			}
		}
		if !slices.Equal(triangles(t, m), want) {
			t.Errorf("%s: other triangles", m.Name)
		}
	}
	if !bytes.Equal(data, writtenPackage(t, "Plate 1 \x01", items)) {
		t.Error("the same items make other bytes")
	}
}

// A triangle with two corners in one place is forbidden by the specification, and
// leaving it out opens nothing.
func TestWriteNeedles(t *testing.T) {
	list := meshtest.Cubes([][3]int{{0, 0, 0}}, 10)
	a, b := list[0][0], list[0][1]
	list = append(list, mesh.Triangle{a, a, b})
	m, err := mesh.FromTriangles("cube", list)
	if err != nil {
		t.Fatal(err)
	}
	got := open3MF(t, writtenPackage(t, "", []threemf.Item{{Name: "cube", Mesh: m, Place: geom.Scaling(1)}}))[0]
	if got.Len() != 12 || math.Abs(got.Volume-1000) > 1e-6 {
		t.Errorf("%d triangles, %g mm3; want 12 and 1000", got.Len(), got.Volume)
	}
}
