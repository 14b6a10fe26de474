package seen

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// views look from the 26 neighbours of a cube.
func views() (list []View) {
	for i := range 27 {
		z := geom.Vec{float64(i%3 - 1), float64(i/3%3 - 1), float64(i/9 - 1)}
		if z == (geom.Vec{}) {
			continue
		}
		z = z.Unit()
		x := z.Cross(geom.Vec{0.3, 0.5, 0.8}).Unit()
		list = append(list, View{x, z.Cross(x), z})
	}
	return list
}

func pieceOf(t *testing.T, solid []mesh.Triangle, clear bool) Piece {
	t.Helper()
	m, err := mesh.FromTriangles("piece", solid)
	if err != nil {
		t.Fatal(err)
	}
	return Piece{m, clear}
}

func box(x0, y0, z0, x1, y1, z1 float64) []mesh.Triangle {
	return meshtest.Box([3]float64{x0, y0, z0}, [3]float64{x1, y1, z1})
}

// seenSides lists how much of each side of a piece is seen: x-, x+, y-, y+, z-, z+, mm2.
func seenSides(t *testing.T, pieces []Piece, which int) (sides [6]int) {
	t.Helper()
	sets, err := Faces(t.Context(), pieces, views())
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range meshtest.Triangles(t, pieces[which].Mesh) {
		if !sets[which].Has(i) {
			continue
		}
		n := geom.Point(c[1]).Minus(geom.Point(c[0])).Cross(geom.Point(c[2]).Minus(geom.Point(c[0]))).Times(0.5)
		for k := range 3 {
			sides[2*k] += int(math.Round(max(-n[k], 0)))
			sides[2*k+1] += int(math.Round(max(n[k], 0)))
		}
	}
	return sides
}

// A block alone is seen all round; glued to another it is not seen there; inside a
// box it is not seen at all, unless the box is clear. The inside of the box is hidden
// too, and of a room with one side open what faces the opening is seen.
func TestFaces(t *testing.T) {
	block := box(10, 10, 10, 30, 20, 14)
	hollow := append(box(0, 0, 0, 40, 40, 40), meshtest.Inverted(box(2, 2, 2, 38, 38, 38))...)
	beside := box(30, 10, 10, 50, 20, 14)
	for _, c := range []struct {
		name   string
		pieces []Piece
		which  int
		want   [6]int
	}{
		{"alone", []Piece{pieceOf(t, block, false)}, 0, [6]int{40, 40, 80, 80, 200, 200}},
		{"glued", []Piece{pieceOf(t, block, false), pieceOf(t, beside, false)}, 0, [6]int{40, 0, 80, 80, 200, 200}},
		{"inside", []Piece{pieceOf(t, block, false), pieceOf(t, hollow, false)}, 0, [6]int{}},
		{"inside clear", []Piece{pieceOf(t, block, false), pieceOf(t, hollow, true)}, 0, [6]int{40, 40, 80, 80, 200, 200}},
		{"box", []Piece{pieceOf(t, block, false), pieceOf(t, hollow, false)}, 1, [6]int{1600, 1600, 1600, 1600, 1600, 1600}},
	} {
		if got := seenSides(t, c.pieces, c.which); got != c.want {
			t.Errorf("%s: %v mm2 are seen, should be %v", c.name, got, c.want)
		}
	}
	tub := append(meshtest.Pocket([][2]float64{{0, 0}, {40, 0}, {40, 40}, {0, 40}}, [][2]float64{{5, 5}, {35, 5}, {35, 35}, {5, 35}}, 0, 10, 14), nil...)
	if got := seenSides(t, []Piece{pieceOf(t, tub, false)}, 0); got[5] != 1600 {
		t.Errorf("of an open tub %v mm2 are seen: its floor should be", got)
	}
	lid := box(0, 0, 14, 40, 40, 17)
	if got := seenSides(t, []Piece{pieceOf(t, tub, false), pieceOf(t, lid, false)}, 0); got[5] != 0 {
		t.Errorf("under its lid %v mm2 of the tub are seen", got)
	}
}

// The same model gives the same answer, however the work is shared; it can be stopped.
func TestRepeated(t *testing.T) {
	pieces := []Piece{pieceOf(t, meshtest.Torus(30, 8, 60, 30), false), pieceOf(t, meshtest.Sphere(26, 40, 30), false)}
	a, err := Faces(t.Context(), pieces, views())
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Faces(t.Context(), pieces, views())
	if !slices.Equal(a[0], b[0]) || !slices.Equal(a[1], b[1]) || a[0].Len() == 0 {
		t.Error("the second time another set is seen")
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := Faces(ctx, pieces, views()); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped, it says %v", err)
	}
}
