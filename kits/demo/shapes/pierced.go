package shapes

import (
	"slices"

	"dryfit/kits/mesh/meshtest"
)

// hole goes into a pierced body: from a ring in its first face or its last, or right
// through. Rings may be of any number of corners, the same for both.
type hole struct {
	from, to []point
	end      int
}

const (
	fromFirst = iota // a blind hole, from the first ring
	fromLast
	through // from the first ring to the last
)

// pierced is a loft along an axis with holes in its end faces. The rings must not be
// folded as seen along the axis.
func pierced(axis int, rings [][]point, holes ...hole) body {
	rings = slices.Clone(rings)
	if middleOf(rings[0])[axis] > middleOf(rings[len(rings)-1])[axis] {
		slices.Reverse(rings)
		for i, h := range holes {
			holes[i] = h.otherWay()
		}
	}
	if turnOf(axis, rings[0]) < 0 {
		for i := range rings {
			rings[i] = backwards(rings[i])
		}
	}
	var b body
	b.bands(rings)
	var first, last [][]point
	for _, h := range holes {
		from, to := h.from, h.to
		if turnOf(axis, from) < 0 {
			from, to = backwards(from), backwards(to)
		}
		switch h.end {
		case fromFirst:
			first = append(first, from)
			b.bands([][]point{backwards(from), backwards(to)})
			b.fan(to)
		case fromLast:
			last = append(last, from)
			b.bands([][]point{from, to})
			b.fan(backwards(to))
		default:
			first, last = append(first, from), append(last, to)
			b.bands([][]point{backwards(from), backwards(to)})
		}
	}
	b.face(axis, true, rings[0], first)
	b.face(axis, false, rings[len(rings)-1], last)
	return b.outward()
}

func (h hole) otherWay() hole {
	switch h.end {
	case fromFirst:
		h.end = fromLast
	case fromLast:
		h.end = fromFirst
	default:
		h.from, h.to = h.to, h.from
	}
	return h
}

// face closes a ring with holes in it by triangles between the corners, seen along
// an axis; back turns it the other way.
func (b *body) face(axis int, back bool, rim []point, holes [][]point) {
	at := map[[2]float64]point{}
	seen := func(list []point) [][2]float64 {
		out := make([][2]float64, len(list))
		for i, p := range list {
			out[i] = [2]float64{p[(axis+1)%3], p[(axis+2)%3]}
			at[out[i]] = p
		}
		return out
	}
	outer := seen(rim)
	var inner [][][2]float64
	for _, h := range holes {
		inner = append(inner, seen(h))
	}
	for _, t := range meshtest.Triangulate(outer, inner) {
		if back {
			t[1], t[2] = t[2], t[1]
		}
		b.triangle(at[t[0]], at[t[1]], at[t[2]])
	}
}

func middleOf(ring []point) point {
	var middle point
	for _, p := range ring {
		middle = middle.plus(p.times(1 / float64(len(ring))))
	}
	return middle
}

// turnOf is positive for a ring that runs counter-clockwise about the axis.
func turnOf(axis int, ring []point) float64 {
	u, v := (axis+1)%3, (axis+2)%3
	var twice float64
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		twice += p[u]*q[v] - p[v]*q[u]
	}
	return twice
}

// prism is a flat outline drawn out along an axis; its points give the two
// coordinates that follow the axis, as do those of the holes through it.
func prism(axis int, from, to float64, outline [][2]float64, holes ...[][2]float64) body {
	ring := func(list [][2]float64, at float64) []point {
		out := make([]point, len(list))
		for i, p := range list {
			out[i][axis], out[i][(axis+1)%3], out[i][(axis+2)%3] = at, p[0], p[1]
		}
		return out
	}
	var list []hole
	for _, h := range holes {
		list = append(list, hole{ring(h, from), ring(h, to), through})
	}
	return pierced(axis, [][]point{ring(outline, from), ring(outline, to)}, list...)
}
