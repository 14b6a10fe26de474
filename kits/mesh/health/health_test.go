package health

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
)

func mustHealth(t *testing.T, list []mesh.Triangle, o Options) *mesh.Health {
	t.Helper()
	m, err := mesh.FromTriangles("part", list)
	if err != nil {
		t.Fatal(err)
	}
	h, err := Examine(context.Background(), m, o)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// isSound reports that there is no serious problem.
func isSound(h *mesh.Health) bool {
	return !slices.ContainsFunc(h.Problems, func(p mesh.Problem) bool { return p.Serious })
}

// kinds lists the problems with their counts. How many pairs of triangles overlap
// is for another test.
func kinds(h *mesh.Health) string {
	var list []string
	for _, p := range h.Problems {
		if p.Kind == mesh.Overlap {
			list = append(list, p.Kind)
			continue
		}
		list = append(list, fmt.Sprintf("%s:%d", p.Kind, p.Count))
	}
	return strings.Join(list, " ")
}

// Solids whose volume, area and numbers of corners and edges follow from closed
// forms: V - E + F = 2 - 2 x holes for each shell (Euler, Poincare).
func TestSoundSolids(t *testing.T) {
	for name, tt := range map[string]struct {
		list         []mesh.Triangle
		v, e, f, x   int
		volume, area float64
		wall         float64 // 0 where none is to be found
	}{
		"cube":                {cube(2), 8, 18, 12, 2, 8, 24, 2},
		"right tetrahedron":   {meshtest.Tetrahedron, 4, 6, 4, 2, 1.0 / 6, 2.3660254037844386, 0},
		"regular tetrahedron": {meshtest.Polyhedron([][3]float32{{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}}, []int{0, 1, 2}, []int{0, 2, 3}, []int{0, 3, 1}, []int{1, 3, 2}), 4, 6, 4, 2, 8.0 / 3, 13.856406460551018, 0},
		"octahedron":          {octahedron(), 6, 12, 8, 2, 4.0 / 3, 6.928203230275509, 0},
		"icosahedron":         {icosahedron(), 12, 30, 20, 2, 17.453559924999299, 34.64101615137755, 0},
		"hexagonal prism":     {prism(6, 1, 2), 14, 36, 24, 2, 5.196152422706632, 17.196152422706632, math.Sqrt(3)},
		"64-sided prism":      {prism(64, 1, 2), 130, 384, 256, 2, 6.273096981091879, 0, 0},
		"torus":               {torus(24, 16, 3, 1), 384, 1152, 768, 0, 57.050358, 0, 0},
		"far from the origin": {moved(cube(2), 5000, -3000, 1000), 8, 18, 12, 2, 8, 24, 2},
	} {
		t.Run(name, func(t *testing.T) {
			h := mustHealth(t, tt.list, Options{Walls: true})
			if h.Corners != tt.v || h.Edges != tt.e || h.Triangles != tt.f || h.Euler != tt.x {
				t.Errorf("V %d E %d F %d chi %d, want %d %d %d %d", h.Corners, h.Edges, h.Triangles, h.Euler, tt.v, tt.e, tt.f, tt.x)
			}
			if !h.Closed || !isSound(h) || h.Shells != 1 || h.Bodies != 1 || len(h.Problems) > 0 {
				t.Errorf("closed %v, sound %v, %d shells, %d bodies, problems %s", h.Closed, isSound(h), h.Shells, h.Bodies, kinds(h))
			}
			meshtest.WantNear(t, "volume", h.Volume, tt.volume)
			if tt.area > 0 {
				meshtest.WantNear(t, "area", h.Area, tt.area)
			}
			if tt.wall > 0 {
				meshtest.WantNear(t, "wall", h.ThinnestWall, tt.wall)
			}
		})
	}
}

func TestProblems(t *testing.T) {
	box := func(list ...[]mesh.Triangle) []mesh.Triangle { return slices.Concat(list...) }
	bar := func(x, y, z float32) []mesh.Triangle {
		list := cube(1)
		for i := range list {
			for c := range list[i] {
				p := &list[i][c]
				*p = [3]float32{p[0] * x, p[1] * y, p[2] * z}
			}
		}
		return list
	}
	back := cube(2)
	back[0][1], back[0][2] = back[0][2], back[0][1]
	needle := box(cube(2), []mesh.Triangle{{{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}, {{1, 1, 0}, {1, 1, 0}, {1, 0, 0}}})
	for name, tt := range map[string]struct {
		list   []mesh.Triangle
		want   string
		sound  bool
		shells int
		bodies int
		euler  int
	}{
		"a face missing":     {cube(2)[2:], "open-edges:4", false, 1, 1, 1},
		"turned":             {inverted(cube(2)), "inside-out:12", false, 1, 1, 2},
		"one triangle back":  {back, "reversed:3", false, 1, 1, 2},
		"two apart":          {box(cube(1), moved(cube(1), 3, 0, 0)), "bodies:2", true, 2, 2, 4},
		"edge to edge":       {box(cube(1), moved(cube(1), 1, 1, 0)), "many-faces:1", false, 1, 1, 3},
		"corner to corner":   {box(cube(1), moved(cube(1), 1, 1, 1)), "bodies:2", true, 2, 2, 3},
		"overlapping":        {box(cube(2), moved(cube(2), 1.1, 1.2, 1.3)), "overlap", true, 2, 1, 4},
		"through each other": {box(bar(9, 1, 1), moved(bar(1, 9, 0.5), 4, -4, 0.25)), "overlap", true, 2, 1, 4},
		"lying on another":   {box(bar(5, 5, 1), moved(bar(2, 2, 1), 1.5, 1.25, 1)), "overlap", true, 2, 1, 4},
		"sealed hollow":      {box(cube(3), moved(inverted(cube(1)), 1, 1, 1)), "sealed-hollow:1", true, 2, 1, 4},
		"hollow, turned":     {inverted(box(cube(3), moved(inverted(cube(1)), 1, 1, 1))), "inside-out:24 sealed-hollow:1", false, 2, 1, 4},
		"solid in solid":     {box(cube(3), moved(cube(1), 1, 1, 1)), "solid-inside:1", true, 2, 1, 4},
		"ball in a hollow":   {box(cube(5), moved(inverted(cube(3)), 1, 1, 1), moved(cube(1), 2, 2, 2)), "sealed-hollow:1 bodies:2", true, 3, 2, 6},
		"one of two turned":  {box(cube(3), moved(inverted(cube(1)), 5, 0, 0)), "inside-out:1 bodies:2", false, 2, 2, 4},
		"a triangle twice":   {box(cube(2), cube(2)[:1]), "many-faces:3 reversed:3 duplicate:1", false, 1, 1, 3},
		"all twice":          {box(cube(2), cube(2)), "many-faces:18 duplicate:12", false, 1, 1, 14},
		"no area":            {needle, "open-edges:2 many-faces:1 reversed:1 degenerate:2", false, 1, 1, 2},
		"nothing with area":  {needle[13:], "degenerate:1", false, 0, 0, 0},
		"a folded sheet":     {meshtest.Polyhedron([][3]float32{{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {1, 3, 0}}, []int{0, 1, 2}, []int{1, 0, 3}), "open-edges:4 crossing:1", false, 1, 1, 1},
	} {
		t.Run(name, func(t *testing.T) {
			h := mustHealth(t, tt.list, Options{Walls: true})
			if got := kinds(h); got != tt.want {
				t.Errorf("problems %s, want %s", got, tt.want)
			}
			if isSound(h) != tt.sound || h.Shells != tt.shells || h.Bodies != tt.bodies || h.Euler != tt.euler {
				t.Errorf("sound %v, %d shells, %d bodies, chi %d", isSound(h), h.Shells, h.Bodies, h.Euler)
			}
			for _, p := range h.Problems {
				if p.Text == "" || p.Remedy == "" {
					t.Errorf("%s has no words", p.Kind)
				}
			}
		})
	}
}

func TestHollowBox(t *testing.T) {
	h := mustHealth(t, slices.Concat(cube(3), moved(inverted(cube(1)), 1, 1, 1)), Options{Walls: true, MinWall: 1.5})
	if h.Corners != 16 || h.Edges != 36 || h.Triangles != 24 || h.Euler != 4 {
		t.Errorf("V %d E %d F %d chi %d", h.Corners, h.Edges, h.Triangles, h.Euler)
	}
	meshtest.WantNear(t, "volume", h.Volume, 26)
	meshtest.WantNear(t, "area", h.Area, 60)
	meshtest.WantNear(t, "wall", h.ThinnestWall, 1)
	if got := kinds(h); got != "sealed-hollow:1 thin-wall:1" {
		t.Errorf("problems %s", got)
	}
	if p := h.Problems[0]; !strings.Contains(p.Text, "of 1 mm3") || p.Place[2] < 1 || p.Place[2] > 2 {
		t.Errorf("hollow at %v: %s", p.Place, p.Text)
	}
}

// The thinnest wall of boxes with a pocket, open to the top, is known.
func TestThinnestWall(t *testing.T) {
	for _, wall := range []float32{0.4, 1, 2.5} {
		outer := [][2]float32{{0, 0}, {20, 0}, {20, 20}, {0, 20}}
		inner := [][2]float32{{wall, 3}, {17, 3}, {17, 17}, {wall, 17}}
		var list []mesh.Triangle
		at := func(p [2]float32, z float32) [3]float32 { return [3]float32{p[0], p[1], z} }
		quad := func(a, b, c, d [3]float32) { list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d}) }
		for i := range 4 {
			j := (i + 1) % 4
			quad(at(outer[i], 0), at(outer[j], 0), at(outer[j], 10), at(outer[i], 10))
			quad(at(inner[j], 4), at(inner[i], 4), at(inner[i], 10), at(inner[j], 10))
			quad(at(outer[i], 10), at(outer[j], 10), at(inner[j], 10), at(inner[i], 10))
		}
		quad(at(outer[3], 0), at(outer[2], 0), at(outer[1], 0), at(outer[0], 0))
		quad(at(inner[0], 4), at(inner[1], 4), at(inner[2], 4), at(inner[3], 4))
		h := mustHealth(t, list, Options{Walls: true})
		if !isSound(h) || len(h.Problems) > 0 {
			t.Fatalf("problems %s", kinds(h))
		}
		meshtest.WantNear(t, "wall", h.ThinnestWall, float64(wall))
		if h.ThinAt[0] < 0 || h.ThinAt[0] > float64(wall) {
			t.Errorf("thin at %v", h.ThinAt)
		}
	}
}

// Corners of 3MF and OBJ count by number first.
func TestHealthByNumber(t *testing.T) {
	object := func(corners string, faces ...string) string {
		return corners + "f " + strings.Join(faces, "\nf ") + "\n"
	}
	sides := []string{"4 3 2 1", "5 6 7 8", "1 2 6 5", "2 3 7 6", "3 4 8 7", "4 1 5 8"}
	cubeText := object(meshtest.CubeCorners, sides...)
	var beside strings.Builder // the same cube, moved by 2 2 0
	for _, c := range [][3]int{{2, 2, 0}, {4, 2, 0}, {4, 4, 0}, {2, 4, 0}, {2, 2, 2}, {4, 2, 2}, {4, 4, 2}, {2, 4, 2}} {
		fmt.Fprintf(&beside, "v %d %d %d\n", c[0], c[1], c[2])
	}
	beside.WriteString(object("", "-5 -6 -7 -8", "-4 -3 -2 -1", "-8 -7 -3 -4", "-7 -6 -2 -3", "-6 -5 -1 -2", "-5 -8 -4 -1"))
	split := meshtest.CubeCorners + "v 0 0 0\nv 2 0 0\n" + strings.Replace(meshtest.CubeFaces, "f 1 2 6 5", "f 9 10 6 5", 1)
	for name, tt := range map[string]struct {
		text, want string
		corners    int
	}{
		"sound":                         {cubeText, "", 8},
		"two that touch along an edge":  {cubeText + beside.String(), "bodies:2", 16},
		"corners that the file repeats": {split, "seams:6", 8},
		"a hole":                        {strings.TrimSuffix(cubeText, "f 4 1 5 8\n"), "open-edges:4", 8},
		"a corner not in use":           {"v 9 9 9\n" + meshtest.CubeCorners + object("", "5 4 3 2", "6 7 8 9", "2 3 7 6", "3 4 8 7", "4 5 9 8", "5 2 6 9"), "", 8},
	} {
		t.Run(name, func(t *testing.T) {
			list := meshtest.Open(t, "part.obj", []byte(tt.text), files.Options{})
			h, err := Examine(context.Background(), list[0], Options{})
			if err != nil {
				t.Fatal(err)
			}
			if got := kinds(h); got != tt.want || h.Corners != tt.corners {
				t.Errorf("problems %s, want %s; %d corners, want %d", got, tt.want, h.Corners, tt.corners)
			}
		})
	}
}

func open3MF(t *testing.T, data []byte) []*mesh.Mesh {
	t.Helper()
	return meshtest.Open(t, "part.3mf", data, files.Options{})
}

// Places of problems are in the finished model, mirrored and turned as it is.
func TestHealthWhereThePartIs(t *testing.T) {
	hole := strings.Replace(meshtest.TetraMesh, `<triangle v1="1" v2="2" v3="3"/>`, `<triangle v1="0" v2="2" v3="1"/>`, 1)
	model := meshtest.Model(`<object id="1">`+hole+`</object>`, `<item objectid="1" transform="1 0 0 0 1 0 0 0 -1 100 200 300"/>`)
	h, err := Examine(context.Background(), open3MF(t, meshtest.Package(model))[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := kinds(h); got != "open-edges:2 many-faces:2 reversed:3 duplicate:1" {
		t.Errorf("problems %s", got)
	}
	for _, p := range h.Problems {
		if p.Place[0] < 100 || p.Place[1] < 200 || p.Place[2] < 298 || p.Place[2] > 300 {
			t.Errorf("%s at %v", p.Kind, p.Place)
		}
	}
	mirrored := meshtest.Model(meshtest.TetraObject, `<item objectid="1" transform="1 0 0 0 1 0 0 0 -1 100 200 300"/>`)
	if h, err = Examine(context.Background(), open3MF(t, meshtest.Package(mirrored))[0], Options{}); err != nil || len(h.Problems) > 0 || !h.Closed {
		t.Errorf("a mirrored part has problems %s, %v", kinds(h), err)
	}
}

func TestHealthTellsWhatWasNotRead(t *testing.T) {
	object := strings.Replace(meshtest.TetraObject, "<object", `<object s:meshresolution="lowres"`, 1)
	h, err := Examine(context.Background(), open3MF(t, meshtest.Package(meshtest.Model(object, meshtest.OneItem)))[0], Options{})
	if err != nil || kinds(h) != "stand-in:1" || isSound(h) {
		t.Errorf("problems %s, %v", kinds(h), err)
	}
	beams := strings.Replace(meshtest.TetraObject, "</triangles>", "</triangles><b:beamlattice/>", 1)
	h, err = Examine(context.Background(), open3MF(t, meshtest.Package(meshtest.Model(beams, meshtest.OneItem)))[0], Options{})
	if err != nil || kinds(h) != "stand-in:1" || !strings.Contains(h.Problems[0].Text, "a beam lattice") {
		t.Errorf("problems %s, %v", kinds(h), err)
	}
}

// The same mesh has the same health each time, no matter how goroutines share the
// work.
func TestHealthIsTheSameEachTime(t *testing.T) {
	list := slices.Concat(torus(100, 50, 3, 1), moved(torus(90, 60, 3, 1), 1, 2, 0.5), cube(2)[1:])
	want := fmt.Sprint(mustHealth(t, list, Options{Walls: true, MinWall: 5}))
	for range 5 {
		if got := fmt.Sprint(mustHealth(t, list, Options{Walls: true, MinWall: 5})); got != want {
			t.Fatalf("health\n%s\nthen\n%s", want, got)
		}
	}
}

// Half the surface of a plate has the plate's thickness behind it, no matter what
// its rim is.
func TestUsualWall(t *testing.T) {
	h := mustHealth(t, meshtest.Polyhedron([][3]float32{{0, 0, 0}, {40, 0, 0}, {40, 30, 0}, {0, 30, 0}, {0, 0, 2}, {40, 0, 2}, {40, 30, 2}, {0, 30, 2}},
		[]int{3, 2, 1, 0}, []int{4, 5, 6, 7}, []int{0, 1, 5, 4}, []int{1, 2, 6, 5}, []int{2, 3, 7, 6}, []int{3, 0, 4, 7}), Options{Walls: true})
	meshtest.WantNear(t, "usual wall", h.UsualWall, 2)
}

// BenchmarkHealth measures a closer look at a closed surface of a million triangles.
func BenchmarkHealth(b *testing.B) {
	m, err := mesh.FromTriangles("ring", torus(1000, 500, 100, 30))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Examine(context.Background(), m, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(m.Len())*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mtriangles/s")
}
