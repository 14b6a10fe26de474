package shapes

import "slices"

// blocks is a piece built up of boxes along the axes: each step adds material or
// takes it away. The planes of all boxes make one grid, which may be bent into
// another shape. Two boxes must not meet in an edge alone.
type blocks struct {
	steps  []blockStep
	planes [3][]float64 // further planes of the grid, where it is to bend
	bend   func(point) point
}

type blockStep struct {
	from, to point
	cut      bool
}

func (w *blocks) add(x0, y0, z0, x1, y1, z1 float64) *blocks {
	return w.step(blockStep{point{x0, y0, z0}, point{x1, y1, z1}, false})
}

func (w *blocks) cut(x0, y0, z0, x1, y1, z1 float64) *blocks {
	return w.step(blockStep{point{x0, y0, z0}, point{x1, y1, z1}, true})
}

func (w *blocks) step(s blockStep) *blocks {
	for k := range 3 {
		s.from[k], s.to[k] = min(s.from[k], s.to[k]), max(s.from[k], s.to[k])
	}
	w.steps = append(w.steps, s)
	return w
}

// grid adds planes across an axis.
func (w *blocks) grid(axis int, at ...float64) *blocks {
	w.planes[axis] = append(w.planes[axis], at...)
	return w
}

func block(x0, y0, z0, x1, y1, z1 float64) *blocks {
	return new(blocks).add(x0, y0, z0, x1, y1, z1)
}

func (w *blocks) body() body {
	g := w.lattice()
	var b body
	for i := range len(g.at[0]) - 1 {
		for j := range len(g.at[1]) - 1 {
			for k := range len(g.at[2]) - 1 {
				if g.full([3]int{i, j, k}) {
					g.bound(&b, [3]int{i, j, k})
				}
			}
		}
	}
	return b.outward()
}

// lattice are the cells between the planes.
type lattice struct {
	at     [3][]float64
	filled []bool
	bend   func(point) point
}

func (w *blocks) lattice() *lattice {
	g := &lattice{at: w.planes, bend: w.bend}
	for k := range g.at {
		g.at[k] = slices.Clone(g.at[k])
		for _, s := range w.steps {
			g.at[k] = append(g.at[k], s.from[k], s.to[k])
		}
		slices.Sort(g.at[k])
		g.at[k] = slices.Compact(g.at[k])
	}
	if g.bend == nil {
		g.bend = func(p point) point { return p }
	}
	g.filled = make([]bool, len(g.at[0])*len(g.at[1])*len(g.at[2]))
	for _, s := range w.steps {
		var lo, hi [3]int
		for k := range 3 {
			lo[k], _ = slices.BinarySearch(g.at[k], s.from[k])
			hi[k], _ = slices.BinarySearch(g.at[k], s.to[k])
		}
		for i := lo[0]; i < hi[0]; i++ {
			for j := lo[1]; j < hi[1]; j++ {
				for k := lo[2]; k < hi[2]; k++ {
					g.filled[g.index([3]int{i, j, k})] = !s.cut
				}
			}
		}
	}
	return g
}

func (g *lattice) index(c [3]int) int { return (c[0]*len(g.at[1])+c[1])*len(g.at[2]) + c[2] }

func (g *lattice) full(c [3]int) bool {
	for k := range c {
		if c[k] < 0 || c[k] >= len(g.at[k])-1 {
			return false
		}
	}
	return g.filled[g.index(c)]
}

// bound adds the faces of a full cell behind which there is none.
func (g *lattice) bound(b *body, cell [3]int) {
	for axis := range 3 {
		u, v := (axis+1)%3, (axis+2)%3
		for side := range 2 {
			next := cell
			next[axis] += 2*side - 1
			if g.full(next) {
				continue
			}
			var c [4]point
			for n, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				p := cell
				p[axis] += side
				p[u] += d[0]
				p[v] += d[1]
				c[n] = g.bend(point{g.at[0][p[0]], g.at[1][p[1]], g.at[2][p[2]]})
			}
			if side == 0 {
				c[1], c[3] = c[3], c[1]
			}
			b.quad(c[0], c[1], c[2], c[3])
		}
	}
}
