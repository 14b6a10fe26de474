package health

import (
	"math/rand/v2"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// frayed moves every corner of every triangle by itself, by up to a distance each way.
func frayed(list []mesh.Triangle, by float64) []mesh.Triangle {
	random := rand.New(rand.NewPCG(7, 7))
	var out []mesh.Triangle
	for _, t := range list {
		for c := range t {
			for k := range 3 {
				t[c][k] += float32(by * (2*random.Float64() - 1))
			}
		}
		out = append(out, t)
	}
	return out
}

// Corners that differ in their last digits are one, with a note that says by how much; a
// sound mesh has no such note, and a hole or a slit stays one.
func TestLastDigits(t *testing.T) {
	ball := meshtest.Sphere(10, 24, 12)
	sound := mustHealth(t, ball, Options{})
	h := mustHealth(t, frayed(ball, 1e-5), Options{})
	if !h.Closed || !isSound(h) || len(h.Problems) != 1 || h.Problems[0].Kind != mesh.Seams || h.Problems[0].Count < 500 ||
		!strings.Contains(h.Problems[0].Text, "at most 0.00003") {
		t.Errorf("closed %v: %+v", h.Closed, h.Problems)
	}
	if h.Corners != sound.Corners || h.Edges != sound.Edges || h.Shells != 1 || h.Euler != 2 {
		t.Errorf("%d corners, %d edges, %d shells, want %d, %d, 1", h.Corners, h.Edges, h.Shells, sound.Corners, sound.Edges)
	}
	if got := kinds(sound); got != "" {
		t.Errorf("a sound ball has %s", got)
	}
	for what, list := range map[string][]mesh.Triangle{
		"a hole":              ball[1:],
		"a hole, and frayed":  frayed(ball, 1e-5)[1:],
		"corners 0.01 mm off": frayed(ball, 1e-2),
	} {
		if h := mustHealth(t, list, Options{}); h.Closed || h.Problems[0].Kind != mesh.OpenEdges {
			t.Errorf("%s: closed %v, %s", what, h.Closed, kinds(h))
		}
	}
	// Far from the origin the numbers are coarser, and so is the limit.
	if h := mustHealth(t, frayed(moved(ball, 5000, 0, 0), 1e-3), Options{}); !h.Closed {
		t.Errorf("far from the origin: %s", kinds(h))
	}
	// Two boxes whose faces are 0.01 mm apart keep their faces.
	near := append(meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 10, 10}), meshtest.Box([3]float64{10.01, 0, 0}, [3]float64{20, 10, 10})[1:]...)
	if h := mustHealth(t, near, Options{}); h.Shells != 2 || h.Closed {
		t.Errorf("two boxes: %d shells, %s", h.Shells, kinds(h))
	}
}

// A mesh whose triangles all have no area is nothing that can be printed.
func TestNothing(t *testing.T) {
	var point, line []mesh.Triangle
	for i := range 12 {
		x := float32(i)
		point = append(point, mesh.Triangle{{1, 2, 3}, {1, 2, 3}, {1, 2, 3}})
		line = append(line, mesh.Triangle{{x, 0, 0}, {x + 1, 0, 0}, {x + 2, 0, 0}})
	}
	for what, list := range map[string][]mesh.Triangle{"a point": point, "a line": line} {
		h := mustHealth(t, list, Options{})
		if isSound(h) || !strings.Contains(kinds(h), "degenerate:12") {
			t.Errorf("%s: sound %v, %s", what, isSound(h), kinds(h))
		}
	}
}
