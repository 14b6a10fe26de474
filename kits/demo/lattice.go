package demo

import (
	"slices"

	"dryfit/kits/geom"
)

// lattice is a grid of cells bent into shape: hulls, skins of wings, plates with
// openings. Some cells are full, the others are left out; the solid is what bounds
// the full ones. Two full cells must not meet in an edge alone.
type lattice struct {
	cells [3]int
	at    func(i, j, k int) vec  // corner
	full  func(i, j, k int) bool // all are if this is nil
	loop  bool                   // the second index runs round and meets itself
}

func (l lattice) solid() solid {
	points := l.points()
	var s solid
	for i := range l.cells[0] {
		for j := range l.cells[1] {
			for k := range l.cells[2] {
				if l.has([3]int{i, j, k}) {
					l.bound(&s, points, [3]int{i, j, k})
				}
			}
		}
	}
	return s.outward()
}

// points computes each corner once.
func (l lattice) points() func(c [3]int) vec {
	n := [3]int{l.cells[0] + 1, l.cells[1] + 1, l.cells[2] + 1}
	list := make([]vec, 0, n[0]*n[1]*n[2])
	for i := range n[0] {
		for j := range n[1] {
			if l.loop && j == l.cells[1] {
				j = 0
			}
			for k := range n[2] {
				list = append(list, l.at(i, j, k))
			}
		}
	}
	return func(c [3]int) vec { return list[(c[0]*n[1]+c[1])*n[2]+c[2]] }
}

// bound adds the faces of a full cell behind which there is none.
func (l lattice) bound(s *solid, points func([3]int) vec, cell [3]int) {
	for axis := range 3 {
		u, v := (axis+1)%3, (axis+2)%3
		for side := range 2 {
			next := cell
			next[axis] += 2*side - 1
			if l.has(next) {
				continue
			}
			var c [4]vec
			for n, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				p := cell
				p[axis] += side
				p[u] += d[0]
				p[v] += d[1]
				c[n] = points(p)
			}
			if side == 0 {
				c[1], c[3] = c[3], c[1]
			}
			s.quad(c[0], c[1], c[2], c[3])
		}
	}
}

func (l lattice) has(c [3]int) bool {
	if l.loop {
		c[1] = (c[1] + l.cells[1]) % l.cells[1]
	}
	for k := range c {
		if c[k] < 0 || c[k] >= l.cells[k] {
			return false
		}
	}
	return l.full == nil || l.full(c[0], c[1], c[2])
}

// joinery is a piece cut and glued from blocks: each step adds material or takes
// it away.
type joinery struct {
	steps []joineryStep
}

type joineryStep struct {
	geom.Box
	add bool
}

func (w *joinery) add(x0, y0, z0, x1, y1, z1 float64) *joinery {
	return w.step(true, x0, y0, z0, x1, y1, z1)
}
func (w *joinery) cut(x0, y0, z0, x1, y1, z1 float64) *joinery {
	return w.step(false, x0, y0, z0, x1, y1, z1)
}

func (w *joinery) step(add bool, x0, y0, z0, x1, y1, z1 float64) *joinery {
	from, to := vec{x0, y0, z0}, vec{x1, y1, z1}
	w.steps = append(w.steps, joineryStep{geom.Box{Min: from, Max: from}.With(to), add})
	return w
}

// solid joins the blocks. All planes of all blocks make the grid.
func (w *joinery) solid() solid {
	var cuts [3][]float64
	for _, s := range w.steps {
		for k := range 3 {
			cuts[k] = append(cuts[k], s.Min[k], s.Max[k])
		}
	}
	for k := range cuts {
		slices.Sort(cuts[k])
		cuts[k] = slices.Compact(cuts[k])
	}
	middle := func(k, i int) float64 { return (cuts[k][i] + cuts[k][i+1]) / 2 }
	return lattice{
		cells: [3]int{len(cuts[0]) - 1, len(cuts[1]) - 1, len(cuts[2]) - 1},
		at:    func(i, j, k int) vec { return vec{cuts[0][i], cuts[1][j], cuts[2][k]} },
		full:  func(i, j, k int) bool { return w.holds(vec{middle(0, i), middle(1, j), middle(2, k)}) },
	}.solid()
}

// holds reports whether there is material at a place: the last step there decides.
func (w *joinery) holds(p vec) bool {
	for _, s := range slices.Backward(w.steps) {
		if s.Holds(p) {
			return s.add
		}
	}
	return false
}

func box(x0, y0, z0, x1, y1, z1 float64) *joinery {
	return new(joinery).add(x0, y0, z0, x1, y1, z1)
}
