package mesh

import (
	"dryfit/kits/geom"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

const cubeCorners = `v 0 0 0
v 2 0 0
v 2 2 0
v 0 2 0
v 0 0 2
v 2 0 2
v 2 2 2
v 0 2 2
`

const cubeFaces = `f 4 3 2 1
f 5 6 7 8
f 1 2 6 5
f 2 3 7 6
f 3 4 8 7
f 4 1 5 8
`

func TestOBJForms(t *testing.T) {
	forms := map[string]string{
		"quadrilaterals": cubeCorners + cubeFaces,
		"textures and normals": cubeCorners + "vn 0 0 1\nvt 0 0\nf 4/1/1 3/1/1 2/1/1 1/1/1\nf 5//1 6//1 7//1 8//1\nf 1/1 2/1 6/1 5/1\n" +
			strings.Join(strings.SplitAfter(cubeFaces, "\n")[3:], ""),
		"counted backwards": cubeCorners + "f -5 -6 -7 -8\n" + strings.Join(strings.SplitAfter(cubeFaces, "\n")[1:], ""),
		"joined lines":      cubeCorners + strings.ReplaceAll(cubeFaces, "f 4 3", "f 4 \\\n3 \\\r\n"),
		"colours":           strings.ReplaceAll(cubeCorners, "\n", " nan 0.5 1\n") + cubeFaces,
		"weights, comments": "\xEF\xBB\xBF# cube\n" + strings.ReplaceAll(cubeCorners, "\n", " 1.0\t# here\n") + strings.ReplaceAll(cubeFaces, "\n", " # a side\n"),
		"other elements":    cubeCorners + "mtllib none.mtl\nusemtl f 1 2 3\ns off\np 1\nl 1 2\n" + cubeFaces + "g empty\no empty\n",
		"patches":           cubeCorners + strings.Replace(strings.Replace(cubeFaces, "f 1", "g sides\nf 1", 1), "f 4 3", "g caps\nf 4 3", 1),
	}
	for name, text := range forms {
		t.Run(name, func(t *testing.T) {
			list := mustOpen(t, "cube.obj", []byte(text), Options{})
			if len(list) != 1 || list[0].Name != "cube" {
				t.Fatalf("meshes %v, want cube alone", names(list))
			}
			m := list[0]
			if m.Len() != 12 || m.Turned {
				t.Errorf("%d triangles, turned %v", m.Len(), m.Turned)
			}
			wantNear(t, "volume", m.Volume, 8)
			wantNear(t, "area", m.Area, 24)
		})
	}
}

// two cubes with corners of their own; the second is named last.
func twoCubes(keyword string) string {
	var b strings.Builder
	for i, name := range []string{"first", "second"} {
		fmt.Fprintf(&b, "%s %s\n%s", keyword, name, strings.ReplaceAll(cubeCorners, "v ", fmt.Sprintf("v %d", i)))
		for _, f := range strings.Split(strings.TrimSpace(cubeFaces), "\n") {
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
			for _, m := range mustOpen(t, "pair.obj", []byte(tt.text), Options{Unit: 10}) {
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
		{"no faces", cubeCorners, "holds no triangles"},
		{"too few", cubeCorners + "f 1 2\n", "line 9: a face of 2 corners"},
		{"beyond", cubeCorners + "f 1 2 9\n", "line 9: a face uses corner 9, but 8 corners stand above it"},
		{"below", "f 1 2 3\n" + cubeCorners, "line 1: a face uses corner 1, but 0"},
		{"back beyond", cubeCorners + "f -9 1 2\n", "uses corner -9"},
		{"zero", cubeCorners + "f 0 1 2\n", "uses corner 0"},
		{"no index", cubeCorners + "f 1 x 2\n", `"x" is no corner of a face`},
		{"empty index", cubeCorners + "f 1 /1 2\n", `"/1" is no corner`},
		{"bad texture", cubeCorners + "f 1/a 2 3\n", `"1/a" is no corner`},
		{"two numbers", "v 1 2\n", "line 1: a corner with 2 numbers; it needs three"},
		{"comma", "v 1,5 2 3\n", "not a comma"},
		{"not finite", "v 1 nan 3\nv 0 0 0\nv 0 1 0\nf 1 2 3\n", "line 1: \"nan\" is not a finite number"},
		{"free form", cubeCorners + "surf 0 1 0 1 1 2 3 4\n", "free-form surface"},
		{"call", "call other.obj\n", "would run another file"},
		{"unknown", "hello\n", `"hello" is no keyword`},
		{"UTF-16", "\xFE\xFF\x00v", "UTF-16"},
		{"binary", "v 0 0 0\n\x00", "is not text"},
		{"crossing", "v 0 3 0\nv 3 3 0\nv 2 3 0\nv 0 2 0\nv 0 1 0\nf 1 2 3 4 5\n", "sides cross or cover each other"},
		{"long lines", "f " + strings.Repeat(strings.Repeat("1 ", 1000)+"\\\n", 10000), "longer than 16 MB"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { wantFault(t, "part.obj", []byte(tt.text), tt.words) })
	}
}

// A polygon, however it lies in space, is cut into triangles that face as it does
// and have its area between them.
func TestPolygonsAreCutWhole(t *testing.T) {
	shapes := map[string][][2]float64{
		"square":               {{0, 0}, {1, 0}, {1, 1}, {0, 1}},
		"corner on a side":     {{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}},
		"triangle, all sides":  {{0, 0}, {1, 0}, {2, 0}, {1, 1}, {0, 2}, {0, 1}},
		"arrow":                {{0, 0}, {4, 2}, {0, 4}, {1, 2}},
		"L":                    {{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 4}, {0, 4}},
		"comb":                 {{0, 0}, {7, 0}, {7, 3}, {6, 3}, {6, 1}, {5, 1}, {5, 3}, {4, 3}, {4, 1}, {3, 1}, {3, 3}, {2, 3}, {2, 1}, {1, 1}, {1, 3}, {0, 3}},
		"hole by a bridge":     {{0, 0}, {6, 0}, {6, 6}, {0, 6}, {0, 0}, {2, 2}, {2, 4}, {4, 4}, {4, 2}, {2, 2}},
		"spiral":               {{0, 0}, {8, 0}, {8, 8}, {2, 8}, {2, 3}, {5, 3}, {5, 5}, {4, 5}, {4, 4}, {3, 4}, {3, 7}, {7, 7}, {7, 1}, {0, 1}},
		"star, twice as sharp": star(rand.New(rand.NewPCG(1, 2)), 40),
		"many teeth":           star(rand.New(rand.NewPCG(3, 4)), 1001),
	}
	for name, shape := range shapes {
		t.Run(name, func(t *testing.T) {
			for axis := range 6 {
				wantCut(t, shape, axis)
			}
		})
	}
}

func star(r *rand.Rand, n int) (p [][2]float64) {
	for i := range n {
		a, d := 2*math.Pi*float64(i)/float64(n), 1+9*r.Float64()
		p = append(p, [2]float64{math.Round(d*math.Cos(a)*64) / 64, math.Round(d*math.Sin(a)*64) / 64})
	}
	return p
}

// wantCut lays the shape across an axis, seen from either end, tilted a little.
func wantCut(t *testing.T, shape [][2]float64, axis int) {
	t.Helper()
	var p [][3]float32
	area := 0.0
	for i, q := range shape {
		next := shape[(i+1)%len(shape)]
		area += (q[0]*next[1] - q[1]*next[0]) / 2
		var c [3]float32
		c[axis%3], c[(axis+1)%3], c[(axis+2)%3] = float32(q[0]+q[1])/4, float32(q[0]), float32(q[1])
		if axis >= 3 {
			c[(axis+1)%3], c[(axis+2)%3] = c[(axis+2)%3], c[(axis+1)%3]
		}
		p = append(p, c)
	}
	n := newell(p)
	var cut cutter
	count, sum := 0, 0.0
	err := cut.cut(p, func(i, j, k int) {
		x := geom.Point(p[j]).Minus(geom.Point(p[i])).Cross(geom.Point(p[k]).Minus(geom.Point(p[i])))
		count++
		sum += x.Length() / 2
		if x.Dot(n) < 0 {
			t.Errorf("axis %d: triangle %d %d %d faces the other way", axis, i, j, k)
		}
	})
	if err != nil {
		t.Fatalf("axis %d: %v", axis, err)
	}
	if count != len(p)-2 {
		t.Errorf("axis %d: %d triangles of %d corners", axis, count, len(p))
	}
	wantNear(t, "area", sum, area*math.Sqrt(1+1.0/8))
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
	wantFault(t, "part.obj", []byte(b.String()), "triangles")
}

func FuzzOBJ(f *testing.F) {
	f.Add([]byte(cubeCorners + cubeFaces))
	f.Add([]byte(twoCubes("g")))
	f.Add([]byte("v 0 0 0\nv 4 0 0\nv 4 1 0\nv 1 1 0\nv 1 4 0\nv 0 4 0\nf 1 2 3 \\\n4 -2 -1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := open(inputBytes("part.obj", data), Options{})
		if err == nil {
			wantSound(t, list)
		}
	})
}
