package blocking

import (
	"context"
	"math"
	"math/bits"

	"dryfit/kits/mesh"
)

// grid is a box of cells, each filled or not. A row of cells lies along the frame's
// w and is kept as bits.
type grid struct {
	n     [3]int // cells along u, v, w
	words int    // of a row
	rows  []uint64
}

func newGrid(n [3]int) *grid {
	g := &grid{n: n, words: (n[2] + 63) / 64}
	g.rows = make([]uint64, n[0]*n[1]*g.words)
	return g
}

func (g *grid) row(u, v int) []uint64 {
	i := (v*g.n[0] + u) * g.words
	return g.rows[i : i+g.words]
}

// fill fills cells from to to-1 of a row.
func (g *grid) fill(u, v, from, to int) {
	row := g.row(u, v)
	from, to = max(from, 0), min(to, g.n[2])
	for i := from; i < to; {
		k := i & 63
		n := min(64-k, to-i)
		row[i>>6] |= (^uint64(0) >> (64 - n)) << k
		i += n
	}
}

func (g *grid) without(o *grid) {
	for i, w := range o.rows {
		g.rows[i] &^= w
	}
}

func (g *grid) clone() *grid {
	c := *g
	c.rows = append([]uint64(nil), g.rows...)
	return &c
}

// count is the number of filled cells.
func (g *grid) count() int {
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

// eroded is the grid less its outermost cells.
func (g *grid) eroded() *grid {
	e := newGrid(g.n)
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

// cells is how one set of pieces fills a grid whose cells are as wide as the lines
// of the view are apart. Depth is counted in cells from the view's first depth.
func (c *workers) cells(ctx context.Context, v *view, pieces []*mesh.Mesh, which []int) (*grid, error) {
	g := newGrid([3]int{v.cols, v.rows, int(v.step*depthCode/v.pitch) + 1})
	// The middle of cell k lies at depth (k + a half) pitches.
	cell := func(code uint32) int { return int(math.Ceil(float64(code)*v.step/v.pitch - 0.5)) }
	err := c.lines(ctx, v, area{0, 0, v.cols, v.rows}, pieces, which, func(x, y int, col *column) {
		for _, st := range col.stretches {
			g.fill(x, y, cell(st.enter), cell(st.leave))
		}
	})
	return g, err
}
