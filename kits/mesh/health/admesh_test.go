package health

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// TestADMesh compares triangles, volumes, open edges and shells of STL files with what
// ADMesh (A. D. Martin, 1995; Debian package admesh) finds in the same files, edges matched
// to the last bit. Where they differ, the reason is beside the shape.
func TestADMesh(t *testing.T) {
	if _, err := exec.LookPath("admesh"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("admesh is not installed")
		}
		t.Skip("NOT CHECKED: admesh is not installed")
	}
	ball := meshtest.Sphere(10, 24, 12)
	for name, c := range map[string]struct {
		list    []mesh.Triangle
		because string // of a difference in open edges or shells
	}{
		"cube":              {cube(2), ""},
		"tetrahedron":       {meshtest.Tetrahedron, ""},
		"torus":             {torus(24, 16, 3, 1), ""},
		"ball":              {ball, ""},
		"tube":              {meshtest.Tube(5, 4, 0, 9, 48), ""},
		"far away":          {moved(cube(2), 5000, -3000, 1000), ""},
		"a face missing":    {cube(2)[2:], ""},
		"many missing":      {slices.Concat(ball[:40], ball[60:200], ball[203:]), ""},
		"turned":            {inverted(cube(2)), ""},
		"two apart":         {slices.Concat(cube(1), moved(cube(1), 3, 0, 0)), ""},
		"corner to corner":  {slices.Concat(cube(1), moved(cube(1), 1, 1, 1)), ""},
		"a hollow":          {slices.Concat(cube(3), moved(inverted(cube(1)), 1, 1, 1)), ""},
		"one triangle back": {slices.Concat([]mesh.Triangle{{cube(2)[0][0], cube(2)[0][2], cube(2)[0][1]}}, cube(2)[1:]), ""},
		"edge to edge":      {slices.Concat(cube(1), moved(cube(1), 1, 1, 0)), "ADMesh pairs the four triangles of an edge by two; here they are one shell"},
		"last digits":       {frayed(ball, 1e-5), "corners that differ in their last digits are one here"},
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "part.stl")
			if err := os.WriteFile(file, meshtest.STL(c.list...), 0o600); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("admesh", "-e", "-d", file).Output()
			if err != nil {
				t.Fatal(err)
			}
			number := func(pattern string) float64 {
				m := regexp.MustCompile(pattern + `\s*[:=]\s*(-?[0-9.]+)`).FindSubmatch(out)
				if m == nil {
					t.Fatalf("no %q in\n%s", pattern, out)
				}
				v, err := strconv.ParseFloat(string(m[1]), 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
			h := mustHealth(t, c.list, Options{})
			if n := number("Number of facets"); int(n) != h.Triangles {
				t.Errorf("%d triangles, want %v", h.Triangles, n)
			}
			if v := math.Abs(number("Volume")); math.Abs(v-h.Volume) > 1e-4*max(1, v) && c.because == "" {
				t.Errorf("volume %v, want %v", h.Volume, v)
			}
			open := 0.0
			for n := range 3 {
				open += float64(n+1) * number(fmt.Sprintf("Facets with %d disconnected edges?", n+1))
			}
			got := 0
			for _, p := range h.Problems {
				if p.Kind == mesh.OpenEdges {
					got = p.Count
				}
			}
			same := got == int(open) && h.Shells == int(number("Number of parts"))
			if same != (c.because == "") {
				t.Errorf("%d open edges and %d shells, want %v and %v (%s)", got, h.Shells, open, number("Number of parts"), c.because)
			}
		})
	}
}
