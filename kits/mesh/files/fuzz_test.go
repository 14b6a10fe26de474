package files_test

import (
	"bytes"
	"context"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/health"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/scan"
)

func FuzzSTL(f *testing.F) {
	f.Add(meshtest.STL(meshtest.Tetrahedron...))
	f.Add([]byte(meshtest.TetrahedronSTL))
	f.Add([]byte("solid\nendsolid"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := files.Read(scan.InMemory("part.stl", data), files.Options{})
		if err == nil {
			wantSound(t, list)
		}
	})
}

func FuzzOBJ(f *testing.F) {
	f.Add([]byte(meshtest.CubeCorners + meshtest.CubeFaces))
	var two bytes.Buffer
	first := meshtest.Box(geom.Vec{}, geom.Vec{1, 1, 1})
	second := meshtest.Box(geom.Vec{2, 0, 0}, geom.Vec{3, 1, 1})
	if err := meshtest.WriteOBJ(&two, []meshtest.Object{{Name: "first", List: first}, {Name: "second", List: second}}); err != nil {
		f.Fatal(err)
	}
	f.Add(two.Bytes())
	f.Add(bytes.ReplaceAll(two.Bytes(), []byte("o "), []byte("g ")))
	f.Add([]byte("v 0 0 0\nv 4 0 0\nv 4 1 0\nv 1 1 0\nv 1 4 0\nv 0 4 0\nf 1 2 3 \\\n4 -2 -1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := files.Read(scan.InMemory("part.obj", data), files.Options{})
		if err == nil {
			wantSound(t, list)
		}
	})
}
func Fuzz3MF(f *testing.F) {
	f.Add(meshtest.SoundModel, meshtest.Relations, meshtest.ContentTypes)
	f.Add(meshtest.Model(meshtest.TetraObject+`<object id="2"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 -1 3 3 3"/></components></object>`, `<item objectid="2"/>`), meshtest.Relations, meshtest.ContentTypes)
	f.Add(meshtest.Model(`<m:colorgroup id="3"><m:color color="#112233"/></m:colorgroup><object id="1" pid="3" pindex="0">`+meshtest.TetraMesh+`</object>`, meshtest.OneItem), meshtest.Relations, meshtest.ContentTypes)
	f.Fuzz(func(t *testing.T, model, rels, types string) {
		list, err := files.Read(scan.InMemory("part.3mf", meshtest.Package(model, meshtest.Entry{"_rels/.rels", rels}, meshtest.Entry{"[Content_Types].xml", types})), files.Options{})
		if err == nil {
			wantSound(t, list)
		}
	})
}

// wantSound checks what must hold for every mesh read from any file.
func wantSound(t *testing.T, list []*mesh.Mesh) {
	t.Helper()
	if len(list) == 0 {
		t.Fatal("neither a mesh nor an error")
	}
	seen := map[string]bool{}
	for _, m := range list {
		if seen[m.Name] {
			t.Fatalf("two meshes are named %q", m.Name)
		}
		seen[m.Name] = true
		if m.Len() == 0 || !(m.Volume >= 0) || !geom.Finite(m.Volume) || !(m.Area >= 0) || !geom.Finite(m.Area) {
			t.Fatalf("%s has %d triangles, volume %v, area %v", m.Name, m.Len(), m.Volume, m.Area)
		}
		if h, err := health.Examine(context.Background(), m, health.Options{Walls: true, MinWall: 1}); err != nil || h.Triangles != m.Len() || h.Shells > m.Len() || !geom.Finite(h.ThinnestWall) {
			t.Fatalf("health %+v, %v", h, err)
		}
		for _, tri := range meshtest.Triangles(t, m) {
			for _, p := range tri {
				for k, v := range p {
					if v := float64(v); !(v >= m.Min[k] && v <= m.Max[k]) {
						t.Fatalf("%s: corner %v lies outside the box %v %v", m.Name, p, m.Min, m.Max)
					}
				}
			}
		}
	}
}
