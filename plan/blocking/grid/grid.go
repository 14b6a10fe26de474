// Package grid finds a way out of a box of cells for a body of cells, along
// straight legs.
package grid

import "math/bits"

// Grid is a box of cells, each filled or not. A row of cells runs along w and is
// stored as bits.
type Grid struct {
	n     [3]int // cells along u, v, w
	words int    // of a row
	rows  []uint64
}

// New returns an empty grid with the given numbers of cells along u, v and w.
func New(n [3]int) *Grid {
	g := &Grid{n: n, words: (n[2] + 63) / 64}
	g.rows = make([]uint64, n[0]*n[1]*g.words)
	return g
}

func (g *Grid) row(u, v int) []uint64 {
	i := (v*g.n[0] + u) * g.words
	return g.rows[i : i+g.words]
}

// Fill fills a stretch of a row; to is not included.
func (g *Grid) Fill(u, v, from, to int) {
	row := g.row(u, v)
	from, to = max(from, 0), min(to, g.n[2])
	for i := from; i < to; {
		k := i & 63
		n := min(64-k, to-i)
		row[i>>6] |= (^uint64(0) >> (64 - n)) << k
		i += n
	}
}

// Remove empties the cells that another grid of the same size fills.
func (g *Grid) Remove(o *Grid) {
	for i, w := range o.rows {
		g.rows[i] &^= w
	}
}

// Clone is a copy of the grid.
func (g *Grid) Clone() *Grid {
	c := *g
	c.rows = append([]uint64(nil), g.rows...)
	return &c
}

// Count is the number of filled cells.
func (g *Grid) Count() int {
	n := 0
	for _, w := range g.rows {
		n += bits.OnesCount64(w)
	}
	return n
}

// shifted ors into out the cells of a row moved by k along it.
func shifted(out, row []uint64, k int) {
	word, bit := k>>6, uint(k&63) // k>>6 rounds down
	for i := range out {
		var w uint64
		if j := i - word; j >= 0 && j < len(row) {
			w = row[j] << bit
		}
		if j := i - word - 1; bit > 0 && j >= 0 && j < len(row) {
			w |= row[j] >> (64 - bit)
		}
		out[i] |= w
	}
}

// Eroded is the grid without the outermost cells of what is filled.
func (g *Grid) Eroded() *Grid {
	e := New(g.n)
	side := make([]uint64, g.words)
	for v := 1; v+1 < g.n[1]; v++ {
		for u := 1; u+1 < g.n[0]; u++ {
			out, row := e.row(u, v), g.row(u, v)
			copy(out, row)
			for _, o := range [][]uint64{g.row(u-1, v), g.row(u+1, v), g.row(u, v-1), g.row(u, v+1)} {
				for i := range out {
					out[i] &= o[i]
				}
			}
			for _, k := range []int{-1, 1} {
				clear(side)
				shifted(side, row, k)
				for i := range out {
					out[i] &= side[i]
				}
			}
		}
	}
	return e
}
