package demo

import (
	"math"

	"dryfit/kits/geom"
)

// cast makes a solid of what of a field lies within a box, from cells of about the
// given size. The sides of the box are cut exactly: they fall in the middle of
// cells, where a straight field is met without error. Cells are marched through
// after Lorensen and Cline, "Marching cubes" (1987), with the loops of each case
// worked out instead of tabled, corners inside never joined across a face.
func cast(f field, from, to vec, size float64) solid {
	g := grid{field: f, box: geom.Box{Min: from, Max: to}}
	for k := range 3 {
		cells := max(math.Round((to[k]-from[k])/size), 1)
		g.step[k] = (to[k] - from[k]) / cells
		g.origin[k] = from[k] - g.step[k]/2
		g.cells[k] = int(cells) + 1
	}
	var s solid
	for i := 0; i < g.cells[0]; i += chunk {
		for j := 0; j < g.cells[1]; j += chunk {
			for k := 0; k < g.cells[2]; k += chunk {
				g.march(&s, [3]int{i, j, k})
			}
		}
	}
	return s.outward()
}

// chunk is how many cells are looked at together: far from the surface, a chunk
// takes one evaluation.
const chunk = 6

type grid struct {
	field
	box    geom.Box
	origin vec
	step   vec
	cells  [3]int
	values [chunk + 1][chunk + 1][chunk + 1]float64
}

func (g *grid) node(i, j, k int) vec {
	return vec{g.origin[0] + float64(i)*g.step[0], g.origin[1] + float64(j)*g.step[1], g.origin[2] + float64(k)*g.step[2]}
}

func (g *grid) value(p vec) float64 {
	d := g.field(p)
	for k := range p {
		d = max(d, g.box.Min[k]-p[k], p[k]-g.box.Max[k])
	}
	return d
}

func (g *grid) march(s *solid, first [3]int) {
	var n [3]int
	for k := range n {
		n[k] = min(chunk, g.cells[k]-first[k])
	}
	low, high := g.node(first[0], first[1], first[2]), g.node(first[0]+n[0], first[1]+n[1], first[2]+n[2])
	if math.Abs(g.value(low.Toward(high, 0.5))) > high.Minus(low).Length()/2*1.01 {
		return
	}
	for i := range n[0] + 1 {
		for j := range n[1] + 1 {
			for k := range n[2] + 1 {
				g.values[i][j][k] = g.value(g.node(first[0]+i, first[1]+j, first[2]+k))
			}
		}
	}
	for i := range n[0] {
		for j := range n[1] {
			for k := range n[2] {
				g.cell(s, first, [3]int{i, j, k})
			}
		}
	}
}

func (g *grid) cell(s *solid, first, at [3]int) {
	var inside int
	var values [8]float64
	for c := range 8 {
		values[c] = g.values[at[0]+c&1][at[1]+c>>1&1][at[2]+c>>2]
		if values[c] < 0 {
			inside |= 1 << c
		}
	}
	for _, loop := range loops[inside] {
		var ring [12]vec
		for n, e := range loop {
			ring[n] = g.crossing(values, first, at, e)
		}
		for n := 1; n+1 < len(loop); n++ {
			s.triangle(ring[0], ring[n], ring[n+1])
		}
	}
}

// crossing is where the surface meets the edge between two corners, kept off the
// corners so that no triangle is without area.
func (g *grid) crossing(values [8]float64, first, at [3]int, e [2]int) vec {
	a, b := values[e[0]], values[e[1]]
	t := min(max(a/(a-b), 0.02), 0.98)
	c := e[0]
	p := g.node(first[0]+at[0]+c&1, first[1]+at[1]+c>>1&1, first[2]+at[2]+c>>2)
	for k := range 3 {
		if (e[0]^e[1])>>k&1 == 1 {
			p[k] += t * g.step[k]
		}
	}
	return p
}

// loops are, for each set of corners inside, the rings of edges that the surface
// crosses. An edge is named by its two corners, the lower first.
var loops = func() (list [256][][][2]int) {
	for inside := range list {
		list[inside] = loopsOf(inside)
	}
	return list
}()

// The corners of each face of a cell, counter-clockwise from outside; bit 0 of a
// corner is x, bit 1 y, bit 2 z.
var cellFaces = [6][4]int{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}}

func loopsOf(inside int) (list [][][2]int) {
	in := func(c int) bool { return inside>>c&1 == 1 }
	next := map[[2]int][2]int{}
	for _, f := range cellFaces {
		for n, c := range f {
			if !in(c) || in(f[(n+1)%4]) {
				continue
			}
			m := n // back to the first corner of this run inside
			for in(f[(m+3)%4]) {
				m = (m + 3) % 4
			}
			next[edgeOf(c, f[(n+1)%4])] = edgeOf(f[(m+3)%4], f[m])
		}
	}
	for a := range 8 {
		for b := range 8 {
			start := [2]int{a, b}
			var loop [][2]int
			for e, ok := next[start]; ok; e, ok = next[start] {
				loop = append(loop, start)
				delete(next, start)
				start = e
			}
			if loop != nil {
				list = append(list, loop)
			}
		}
	}
	return list
}

func edgeOf(a, b int) [2]int { return [2]int{min(a, b), max(a, b)} }
