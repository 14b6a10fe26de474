// Package raster finds the sample lines of a grid that a triangle meets.
package raster

import (
	"math"

	"dryfit/kits/geom"
)

// Grid is square cells over the plane of x and y, from the origin on; the sample lines
// stand on their middles.
type Grid struct {
	Pitch  float64 // mm, the side of a cell
	NX, NY int
}

// Over is a grid over a box of the given size, mm. Its cells have the given pitch.
func Over(w, d, pitch float64) Grid {
	return Grid{pitch, int(math.Ceil(w/pitch)) + 1, int(math.Ceil(d/pitch)) + 1}
}

// Cells is the number of cells.
func (g *Grid) Cells() int { return g.NX * g.NY }

// Cell is the cell that holds a place; places outside go to the nearest.
func (g *Grid) Cell(x, y float64) int {
	at := func(v float64, n int) int { return min(max(int(v/g.Pitch), 0), n-1) }
	return at(y, g.NY)*g.NX + at(x, g.NX)
}

// Middle is where the line of a cell stands.
func (g *Grid) Middle(cell int) (x, y float64) {
	return (float64(cell%g.NX) + 0.5) * g.Pitch, (float64(cell/g.NX) + 0.5) * g.Pitch
}

// Triangle calls do with the cells whose lines meet a triangle, and the height at
// which. Two triangles that share an edge agree on which side of it a line passes:
// the edge is always computed from its lower end, and belongs to one of them. A
// triangle that stands upright meets no line.
func (g *Grid) Triangle(c *[3]geom.Vec, do func(cell int, z float64)) {
	n := c[1].Minus(c[0]).Cross(c[2].Minus(c[0]))
	if n[2] == 0 {
		return
	}
	low, high := min(c[0][2], c[1][2], c[2][2]), max(c[0][2], c[1][2], c[2][2])
	front, back := min(c[0][1], c[1][1], c[2][1]), max(c[0][1], c[1][1], c[2][1])
	first, last := max(int(math.Floor(front/g.Pitch-0.5)), 0), min(int(math.Ceil(back/g.Pitch-0.5)), g.NY-1)
	for row := first; row <= last; row++ {
		y := (float64(row) + 0.5) * g.Pitch
		x, met := ends(c, y)
		if !met {
			continue
		}
		from, to := max(int(math.Ceil(x[0]/g.Pitch-0.5)), 0), min(int(math.Ceil(x[1]/g.Pitch-0.5)), g.NX)
		for col := from; col < to; col++ {
			z := c[0][2] - (n[0]*((float64(col)+0.5)*g.Pitch-c[0][0])+n[1]*(y-c[0][1]))/n[2]
			do(row*g.NX+col, min(max(z, low), high))
		}
	}
}

// ends is where the edges of a triangle cross a row.
func ends(c *[3]geom.Vec, y float64) (x [2]float64, met bool) {
	n := 0
	for k := range 3 {
		a, b := &c[k], &c[(k+1)%3]
		if (a[1] <= y) == (b[1] <= y) {
			continue
		}
		if b[1] < a[1] {
			a, b = b, a
		}
		if n < 2 {
			x[n] = a[0] + (y-a[1])/(b[1]-a[1])*(b[0]-a[0])
		}
		n++
	}
	if x[0] > x[1] {
		x[0], x[1] = x[1], x[0]
	}
	return x, n == 2
}
