package obj_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
)

func TestOBJForms(t *testing.T) {
	forms := map[string]string{
		"quadrilaterals": meshtest.CubeCorners + meshtest.CubeFaces,
		"textures and normals": meshtest.CubeCorners + "vn 0 0 1\nvt 0 0\nf 4/1/1 3/1/1 2/1/1 1/1/1\nf 5//1 6//1 7//1 8//1\nf 1/1 2/1 6/1 5/1\n" +
			strings.Join(strings.SplitAfter(meshtest.CubeFaces, "\n")[3:], ""),
		"counted backwards": meshtest.CubeCorners + "f -5 -6 -7 -8\n" + strings.Join(strings.SplitAfter(meshtest.CubeFaces, "\n")[1:], ""),
		"joined lines":      meshtest.CubeCorners + strings.ReplaceAll(meshtest.CubeFaces, "f 4 3", "f 4 \\\n3 \\\r\n"),
		"colours":           strings.ReplaceAll(meshtest.CubeCorners, "\n", " nan 0.5 1\n") + meshtest.CubeFaces,
		"weights, comments": "\xEF\xBB\xBF# cube\n" + strings.ReplaceAll(meshtest.CubeCorners, "\n", " 1.0\t# here\n") + strings.ReplaceAll(meshtest.CubeFaces, "\n", " # a side\n"),
		"other elements":    meshtest.CubeCorners + "mtllib none.mtl\nusemtl f 1 2 3\ns off\np 1\nl 1 2\n" + meshtest.CubeFaces + "g empty\no empty\n",
		"patches":           meshtest.CubeCorners + strings.Replace(strings.Replace(meshtest.CubeFaces, "f 1", "g sides\nf 1", 1), "f 4 3", "g caps\nf 4 3", 1),
	}
	for name, text := range forms {
		t.Run(name, func(t *testing.T) {
			list := meshtest.Open(t, "cube.obj", []byte(text), files.Options{})
			if len(list) != 1 || list[0].Name != "cube" {
				t.Fatalf("meshes %v, want cube alone", meshtest.Names(list))
			}
			m := list[0]
			if m.Len() != 12 || m.Turned {
				t.Errorf("%d triangles, turned %v", m.Len(), m.Turned)
			}
			meshtest.WantNear(t, "volume", m.Volume, 8)
			meshtest.WantNear(t, "area", m.Area, 24)
		})
	}
}

// two cubes with corners of their own; the second is named last.
func twoCubes(keyword string) string {
	var b strings.Builder
	for i, name := range []string{"first", "second"} {
		fmt.Fprintf(&b, "%s %s\n%s", keyword, name, strings.ReplaceAll(meshtest.CubeCorners, "v ", fmt.Sprintf("v %d", i)))
		for _, f := range strings.Split(strings.TrimSpace(meshtest.CubeFaces), "\n") {
			var n [4]int
			fmt.Sscanf(f, "f %d %d %d %d", &n[0], &n[1], &n[2], &n[3])
			fmt.Fprintf(&b, "f %d %d %d %d\n", n[0]-9, n[1]-9, n[2]-9, n[3]-9)
		}
	}
	return b.String()
}

func TestOBJHoldsSeveralMeshes(t *testing.T) {
	again := twoCubes("o") + "o first\nf -8 -7 -6\n"
	for name, tt := range map[string]struct{ text, want string }{
		"objects":                     {twoCubes("o"), "first:12 second:12"},
		"groups":                      {twoCubes("g"), "first:12 second:12"},
		"an object around groups":     {"o whole\n" + twoCubes("g"), "first:12 second:12"},
		"groups in objects":           {strings.ReplaceAll(twoCubes("o"), "f -4 -1", "g patch\nf -4 -1"), "first:12 second:12"},
		"an object goes on":           {again, "first:13 second:12"},
		"faces before the first name": {strings.Replace(twoCubes("o"), "o first\n", "", 1), "pair:12 second:12"},
	} {
		t.Run(name, func(t *testing.T) {
			var got []string
			for _, m := range meshtest.Open(t, "pair.obj", []byte(tt.text), files.Options{Unit: 10}) {
				got = append(got, fmt.Sprintf("%s:%d", m.Name, m.Len()))
			}
			if s := strings.Join(got, " "); s != tt.want {
				t.Errorf("meshes %s, want %s", s, tt.want)
			}
		})
	}
}

func TestOBJFaults(t *testing.T) {
	tests := []struct{ name, text, words string }{
		{"no faces", meshtest.CubeCorners, "has no triangles"},
		{"too few", meshtest.CubeCorners + "f 1 2\n", "line 9: a face with 2 corners"},
		{"beyond", meshtest.CubeCorners + "f 1 2 9\n", "line 9: a face uses corner 9, but 8 are defined above it"},
		{"below", "f 1 2 3\n" + meshtest.CubeCorners, "line 1: a face uses corner 1, but 0"},
		{"back beyond", meshtest.CubeCorners + "f -9 1 2\n", "uses corner -9"},
		{"zero", meshtest.CubeCorners + "f 0 1 2\n", "uses corner 0"},
		{"no index", meshtest.CubeCorners + "f 1 x 2\n", `"x" is not a corner of a face`},
		{"empty index", meshtest.CubeCorners + "f 1 /1 2\n", `"/1" is not a corner`},
		{"bad texture", meshtest.CubeCorners + "f 1/a 2 3\n", `"1/a" is not a corner`},
		{"two numbers", "v 1 2\n", "line 1: a corner with 2 numbers; it needs three"},
		{"comma", "v 1,5 2 3\n", "not a comma"},
		{"not finite", "v 1 nan 3\nv 0 0 0\nv 0 1 0\nf 1 2 3\n", "line 1: \"nan\" is not a finite number"},
		{"free form", meshtest.CubeCorners + "surf 0 1 0 1 1 2 3 4\n", "free-form surface"},
		{"call", "call other.obj\n", "would run another file"},
		{"unknown", "hello\n", `"hello" is not an OBJ keyword`},
		{"UTF-16", "\xFE\xFF\x00v", "UTF-16"},
		{"binary", "v 0 0 0\n\x00", "is not text"},
		{"crossing", "v 0 3 0\nv 3 3 0\nv 2 3 0\nv 0 2 0\nv 0 1 0\nf 1 2 3 4 5\n", "sides cross or overlap"},
		{"long lines", "f " + strings.Repeat(strings.Repeat("1 ", 1000)+"\\\n", 10000), "longer than 16 MB"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { meshtest.WantFault(t, "part.obj", []byte(tt.text), tt.words) })
	}
}

func TestHostilePolygonsEnd(t *testing.T) {
	var b strings.Builder
	r := rand.New(rand.NewPCG(5, 6))
	for range 90_000 {
		fmt.Fprintf(&b, "v %d %d 0\n", r.IntN(1e6), r.IntN(1e6))
	}
	b.WriteString("f")
	for i := range 90_000 {
		fmt.Fprintf(&b, " %d", i+1)
	}
	meshtest.WantFault(t, "part.obj", []byte(b.String()), "too many corners to triangulate")
}
