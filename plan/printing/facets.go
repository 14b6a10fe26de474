package printing

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Two triangles of a hull belong to one flat face when their normals differ by
// less than flatAngle and their corners lie within flatDepth of its plane, mm.
const (
	flatAngle = 2 * math.Pi / 180
	flatDepth = 0.02
)

// facets merges the triangles of the hull into flat faces, starting each from the
// largest triangle left.
func (q *quickhull) facets() []Facet {
	area := make([]float64, len(q.faces))
	var order []int
	for f, s := range q.faces {
		if !s.gone {
			a, b, c := q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]
			area[f] = b.Minus(a).Cross(c.Minus(a)).Length() / 2
			order = append(order, f)
		}
	}
	slices.SortStableFunc(order, func(f, g int) int { return cmp.Compare(area[g], area[f]) })
	taken := make([]bool, len(q.faces))
	var list []Facet
	for _, f := range order {
		if !taken[f] {
			list = append(list, q.facet(f, area, taken))
		}
	}
	slices.SortStableFunc(list, func(a, b Facet) int { return cmp.Compare(b.Area, a.Area) })
	return list
}

// facet spreads from a triangle over its neighbours in the same plane.
func (q *quickhull) facet(first int, area []float64, taken []bool) Facet {
	n, offset := q.faces[first].normal, q.faces[first].offset
	out := Facet{Normal: n}
	taken[first] = true
	queue := []int{first}
	for len(queue) > 0 {
		s := q.faces[queue[0]]
		out.Area += area[queue[0]]
		queue = queue[1:]
		out.faces = append(out.faces, [3]geom.Vec{q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]})
		for _, g := range s.next {
			if !taken[g] && q.flush(g, n, offset) {
				taken[g] = true
				queue = append(queue, g)
			}
		}
	}
	return out
}

// flush reports whether a triangle lies in a plane. The normal of a triangle
// thinner than the depth is ignored.
func (q *quickhull) flush(f int, n geom.Vec, offset float64) bool {
	s := &q.faces[f]
	for _, c := range s.corner {
		if math.Abs(n.Dot(q.points[c])-offset) > flatDepth {
			return false
		}
	}
	if n.Dot(s.normal) >= math.Cos(flatAngle) {
		return true
	}
	a, b, c := q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]
	longest := max(b.Minus(a).Length(), c.Minus(a).Length(), c.Minus(b).Length())
	return b.Minus(a).Cross(c.Minus(a)).Length() < flatDepth*longest
}

// directions spreads n directions evenly over the sphere, along a spiral (golden
// angle).
func directions(n int) []geom.Vec {
	golden := math.Pi * (3 - math.Sqrt(5))
	list := make([]geom.Vec, n)
	for i := range list {
		z := 1 - (2*float64(i)+1)/float64(n)
		s, c := math.Sincos(golden * float64(i))
		r := math.Sqrt(1 - z*z)
		list[i] = geom.Vec{r * c, r * s, z}
	}
	return list
}

// outermost picks the point that lies farthest along each direction, in the order
// of the points.
func outermost(points []geom.Vec, along []geom.Vec) []geom.Vec {
	keep := make([]bool, len(points))
	for _, d := range along {
		best, most := 0, math.Inf(-1)
		for i := range points {
			if v := d.Dot(points[i]); v > most {
				best, most = i, v
			}
		}
		keep[best] = true
	}
	var list []geom.Vec
	for i, k := range keep {
		if k {
			list = append(list, points[i])
		}
	}
	return list
}
