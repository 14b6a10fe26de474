package shapes

import "math"

// slab is a body between two surfaces over one grid of cells: a wing skin, a shell,
// a half of a float. The surfaces may meet at the edges and may be bent in any way
// as long as they do not cross.
type slab struct {
	cells       [2]int
	top, bottom func(i, j int) point           // at the corners of the grid
	open        func(i, j int) bool            // cells left out right through; may be nil
	bore        func(i, j int) (share float64) // a round hole in a cell, as a share of its width; may be nil
}

const boreCorners = 16

func (s slab) body() body {
	g := slabGrid{slab: s, faces: [2][][]point{s.grid(s.top), s.grid(s.bottom)}}
	var b body
	for i := range s.cells[0] {
		for j := range s.cells[1] {
			if g.out(i, j) {
				continue
			}
			if share := g.share(i, j); share > 0 {
				g.drill(&b, i, j, share)
			} else {
				g.cell(&b, i, j)
			}
			g.rims(&b, i, j)
		}
	}
	return b.outward()
}

func (s slab) grid(at func(i, j int) point) [][]point {
	rows := make([][]point, s.cells[0]+1)
	for i := range rows {
		for j := range s.cells[1] + 1 {
			rows[i] = append(rows[i], at(i, j))
		}
	}
	return rows
}

type slabGrid struct {
	slab
	faces [2][][]point
}

func (g *slabGrid) out(i, j int) bool {
	return i < 0 || j < 0 || i >= g.cells[0] || j >= g.cells[1] || g.open != nil && g.open(i, j)
}

func (g *slabGrid) share(i, j int) float64 {
	if g.bore == nil {
		return 0
	}
	return g.bore(i, j)
}

func (g *slabGrid) corners(f, i, j int) [4]point {
	m := g.faces[f]
	return [4]point{m[i][j], m[i+1][j], m[i+1][j+1], m[i][j+1]}
}

func (g *slabGrid) cell(b *body, i, j int) {
	t, u := g.corners(0, i, j), g.corners(1, i, j)
	b.quad(t[0], t[1], t[2], t[3])
	b.quad(u[3], u[2], u[1], u[0])
}

// rims are the walls of a cell towards cells that are not there.
func (g *slabGrid) rims(b *body, i, j int) {
	t, u := g.corners(0, i, j), g.corners(1, i, j)
	for k, next := range [4][2]int{{i, j - 1}, {i + 1, j}, {i, j + 1}, {i - 1, j}} {
		if g.out(next[0], next[1]) {
			n := (k + 1) % 4
			b.quad(t[n], t[k], u[k], u[n])
		}
	}
}

// drill fills a cell round a hole through it.
func (g *slabGrid) drill(b *body, i, j int, share float64) {
	rings := [2][]point{}
	for f := range rings {
		c := g.corners(f, i, j)
		for k := range boreCorners {
			sin, cos := math.Sincos(2*math.Pi*float64(k)/boreCorners - 3*math.Pi/4)
			u, v := 0.5+share/2*cos, 0.5+share/2*sin
			rings[f] = append(rings[f], c[0].to(c[1], u).to(c[3].to(c[2], u), v))
		}
	}
	const quarter = boreCorners / 4
	at := func(f, k int) point { return rings[f][(k+boreCorners)%boreCorners] }
	t, u := g.corners(0, i, j), g.corners(1, i, j)
	for q := range 4 {
		// A fan from each corner of the cell to its quarter of the hole.
		n := (q + 1) % 4
		b.triangle(t[q], t[n], at(0, q*quarter+quarter/2))
		b.triangle(u[n], u[q], at(1, q*quarter+quarter/2))
		for k := q*quarter - quarter/2; k < q*quarter+quarter/2; k++ {
			b.triangle(t[q], at(0, k+1), at(0, k))
			b.triangle(u[q], at(1, k), at(1, k+1))
		}
	}
	for k := range boreCorners {
		b.quad(at(0, k), at(0, k+1), at(1, k+1), at(1, k))
	}
}
