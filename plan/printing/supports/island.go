package supports

import (
	"cmp"
	"context"
	"math"
	"slices"

	"dryfit/kits/disjoint"
	"dryfit/kits/geom"
)

// islands counts the places above the first layer where a layer begins with nothing
// beneath it: the lowest places of the surface, seen going up, that face down and
// stay apart from the rest for a layer or more. The corners are those of the last
// turn measured. The error is the context's.
func (p *Part) islands(ctx context.Context, g *columns, layer float64) (int, error) {
	w := p.welded
	if w == nil {
		return Uncounted, nil
	}
	n := 0
	list := w.lowest(layer)
	down := w.down(list)
	for _, v := range list {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		at := w.turned[v]
		if at[2] > layer && down[v] > 0 && !g.buried(at, layer) {
			n++
		}
	}
	return n, nil
}

// buried reports whether a lowest place is inside another solid of the part, or the
// underside that it belongs to rests on one somewhere.
func (g *columns) buried(at geom.Vec, layer float64) bool {
	first := g.Cell(at[0], at[1])
	low, high := float32(at[2]-layer), float32(at[2]+layer)
	if g.solid(first, low) {
		return true
	}
	if len(g.inner) == 0 {
		return false
	}
	steps := map[int]int{first: 0} // from the first cell
	open := []int{first}
	var room [4]int
	for len(open) > 0 {
		c := open[0]
		open = open[1:]
		for _, m := range g.inner[g.first[c]:g.first[c+1]] {
			if m.z >= low && m.z <= high {
				return true
			}
		}
		if steps[c] > 1 && !g.begins(c, low, high) {
			continue // the place may be a corner, which no line near it meets
		}
		for _, next := range g.beside(c, &room) {
			if _, known := steps[next]; !known {
				steps[next] = steps[c] + 1
				open = append(open, next)
			}
		}
	}
	return false
}

// begins reports whether a span of a cell begins between two heights.
func (g *columns) begins(cell int, low, high float32) bool {
	return slices.ContainsFunc(g.of(cell), func(s span) bool { return s.low >= low && s.low <= high })
}

// beside lists the cells beside one, in room that is given.
func (g *columns) beside(cell int, room *[4]int) []int {
	list := room[:0]
	x, y := cell%g.NX, cell/g.NX
	if x+1 < g.NX {
		list = append(list, cell+1)
	}
	if x > 0 {
		list = append(list, cell-1)
	}
	if y+1 < g.NY {
		list = append(list, cell+g.NX)
	}
	if y > 0 {
		list = append(list, cell-g.NX)
	}
	return list
}

// lowest lists a lowest corner of each part of the surface that, going up, meets
// the others only a layer or more above it. It is the first half of a merge tree:
// edges are taken in the order in which a rising plane passes them, and where two
// parts meet, the younger ends.
func (w *welded) lowest(layer float64) []int32 {
	if list := w.minima(); len(list) < 2 {
		return list
	}
	edges := w.edges()
	sets := disjoint.New(len(w.corners))
	least := make([]int32, len(w.corners)) // of a group, by its leader
	for i := range least {
		least[i] = int32(i)
	}
	var list []int32
	for _, e := range edges {
		a, b := sets.Find(int(e.a)), sets.Find(int(e.b))
		if a == b {
			continue
		}
		low, high := least[a], least[b]
		if w.turned[high][2] < w.turned[low][2] {
			low, high = high, low
		}
		if e.z-w.turned[high][2] >= layer {
			list = append(list, high)
		}
		sets.Join(a, b)
		least[sets.Find(a)] = low
	}
	for i := range least {
		if sets.Find(i) == i {
			list = append(list, least[i])
		}
	}
	return list
}

// edge is passed when a rising plane has passed both its corners.
type edge struct {
	z    float64
	a, b int32
}

// edges lists the edges in the order in which a rising plane passes them.
func (w *welded) edges() []edge {
	list := make([]edge, 0, 3*len(w.faces)/2)
	for _, f := range w.faces {
		for k, a := range f {
			if b := f[(k+1)%3]; a < b {
				list = append(list, edge{max(w.turned[a][2], w.turned[b][2]), a, b})
			}
		}
	}
	slices.SortFunc(list, func(x, y edge) int {
		return cmp.Or(cmp.Compare(x.z, y.z), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	return list
}

// minima lists the corners with no lower neighbour.
func (w *welded) minima() (list []int32) {
	lower := make([]bool, len(w.corners)) // it has one
	for _, f := range w.faces {
		for k, a := range f {
			b := f[(k+1)%3]
			if w.turned[a][2] < w.turned[b][2] {
				a, b = b, a
			}
			lower[a] = lower[a] || w.turned[b][2] < w.turned[a][2]
		}
	}
	for v, l := range lower {
		if !l {
			list = append(list, int32(v))
		}
	}
	return list
}

// down is by how much the surface faces down at each of the corners asked for, and 0 at all
// others: the mean of its normals there, weighted by angle (J. A. Baerentzen and H. Aanaes,
// "Signed distance computation using the angle weighted pseudonormal", IEEE
// Transactions on Visualization and Computer Graphics 11, 2005).
func (w *welded) down(corners []int32) []float64 {
	down, asked := make([]float64, len(w.corners)), make([]bool, len(w.corners))
	for _, v := range corners {
		asked[v] = true
	}
	for _, f := range w.faces {
		for k, v := range f {
			if !asked[v] {
				continue
			}
			a, b, c := w.turned[v], w.turned[f[(k+1)%3]], w.turned[f[(k+2)%3]]
			u, t := b.Minus(a), c.Minus(a)
			n := u.Cross(t)
			if l := n.Length(); l > 0 {
				down[v] -= n[2] / l * math.Atan2(l, u.Dot(t))
			}
		}
	}
	return down
}
