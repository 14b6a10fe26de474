package blocking_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// solids are pieces by name, as blocks: x, y and z from and to; a cut has air in it.
type solids map[string][]meshtest.Block

func solid(x0, x1, y0, y1, z0, z1 float64) meshtest.Block {
	return meshtest.Block{Min: [3]float64{x0, y0, z0}, Max: [3]float64{x1, y1, z1}}
}

func air(x0, x1, y0, y1, z0, z1 float64) meshtest.Block {
	b := solid(x0, x1, y0, y1, z0, z1)
	b.Cut = true
	return b
}

// hollows tells the hollows of some solids: their closers and what they hold.
func hollows(t *testing.T, s solids) string {
	t.Helper()
	var pieces []*mesh.Mesh
	for name, blocks := range s {
		m, err := mesh.FromTriangles(name, meshtest.Carved(blocks...))
		if err != nil {
			t.Fatal(err)
		}
		pieces = append(pieces, m)
	}
	slices.SortFunc(pieces, func(a, b *mesh.Mesh) int { return strings.Compare(a.Name, b.Name) })
	ctx := context.Background()
	m, err := blocking.Measure(ctx, pieces, blocking.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	faces, err := m.Faces(ctx, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	list, _, err := m.Hollows(ctx, faces)
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, h := range list {
		var closers, holds []string
		for _, c := range h.Closers {
			closers = append(closers, pieces[c.Piece].Name)
		}
		for _, p := range h.Holds {
			holds = append(holds, pieces[p].Name)
		}
		lines = append(lines, fmt.Sprintf("%s: %s", strings.Join(closers, " "), strings.Join(holds, " ")))
	}
	return strings.Join(lines, "; ")
}

var (
	tub = []meshtest.Block{solid(0, 120, 0, 60, 0, 50), air(2, 118, 2, 58, 2, 51)}
	lid = []meshtest.Block{solid(0, 120, 0, 60, 50, 52)}
)

func TestHollows(t *testing.T) {
	chest := solid(10, 30, 10, 30, 2, 20)
	bed := solid(80, 110, 10, 40, 2, 14)
	wall := []meshtest.Block{solid(60, 62, 2, 58, 2, 50), air(59, 63, 20, 36, 2, 40)} // with a door
	with := func(b []meshtest.Block, more ...meshtest.Block) []meshtest.Block {
		return append(slices.Clone(b), more...)
	}
	for _, c := range []struct {
		name, want string
		s          solids
	}{
		{"a tub with a lid", "lid tub: chest", solids{"tub": tub, "lid": lid, "chest": {chest}}},
		{"an open tub holds nothing", "", solids{"tub": tub, "chest": {chest}}},
		{"a hole for a cable", "lid tub: chest", solids{"tub": tub, "lid": with(lid, air(18, 22, 18, 22, 49, 53)), "chest": {chest}}},
		{"a door to the outside", "lid tub: chest", solids{"tub": with(tub, air(-1, 3, 12, 28, 2, 40)), "lid": lid, "chest": {chest}}},
		{"two rooms with a door between", "lid tub: chest wall; lid tub: bed", solids{"tub": tub, "lid": lid, "wall": wall, "chest": {chest}, "bed": {bed}}},
		{"a floor between two rooms", "lid tub: chest floor; floor tub: bed", solids{"tub": tub, "lid": lid,
			"floor": {solid(2.2, 117.8, 2.2, 57.8, 24, 26)}, "chest": {solid(10, 30, 10, 30, 26, 40)}, "bed": {bed}}},
		{"a table does not divide", "lid tub: bed table", solids{"tub": tub, "lid": lid, "table": {solid(10, 60, 10, 50, 20, 22), solid(30, 34, 28, 32, 2, 20)}, "bed": {bed}}},
		{"a gap between two plates is no space", "", solids{"base": {solid(0, 60, 0, 60, 0, 2)}, "top": {solid(0, 60, 0, 60, 4, 6)},
			"rim": {solid(0, 60, 0, 60, 2, 4), air(4, 56, 4, 56, 1, 5)}}},
		{"a cage is none", "", solids{"base": {solid(0, 60, 0, 60, 0, 2)}, "top": {solid(0, 60, 0, 60, 42, 44)}, "thing": {solid(20, 40, 20, 40, 2, 20)},
			"posts": {solid(0, 4, 0, 4, 2, 42), solid(56, 60, 0, 4, 2, 42), solid(0, 4, 56, 60, 2, 42), solid(56, 60, 56, 60, 2, 42)}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := hollows(t, c.s); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// Two boxes side by side, 0.2 mm apart, face each other over what they share.
func TestFaces(t *testing.T) {
	var pieces []*mesh.Mesh
	for _, b := range [][2][3]float64{{{0, 0, 0}, {20, 20, 20}}, {{20.2, 5, 10}, {30, 15, 40}}} {
		m, err := mesh.FromTriangles("box", meshtest.Box(b[0], b[1]))
		if err != nil {
			t.Fatal(err)
		}
		pieces = append(pieces, m)
	}
	ctx := context.Background()
	m, err := blocking.Measure(ctx, pieces, blocking.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	for fit, want := range map[float64]float64{0.5: 100, 0.1: 0} {
		faces, err := m.Faces(ctx, fit)
		if err != nil {
			t.Fatal(err)
		}
		got := faces[0]
		if d := got[0][0] - want; d > 3 || d < -3 || got[0][1]+got[1][0]+got[1][1]+got[2][0]+got[2][1] > 0 {
			t.Errorf("fit %g: %v, want %g mm2 up x alone", fit, got, want)
		}
	}
}
