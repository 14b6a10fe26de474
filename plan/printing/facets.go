package printing

import (
	"cmp"
	"math"
	"slices"
)

// Two triangles of a hull are of one flat face when their normals differ by less than
// flatAngle and their corners lie within flatDepth of its plane, mm.
const (
	flatAngle = 2 * math.Pi / 180
	flatDepth = 0.02
)

// facets puts the triangles of the hull together into flat faces, each begun with the
// largest triangle left.
func (q *quickhull) facets() []Facet {
	area := make([]float64, len(q.faces))
	var order []int
	for f, s := range q.faces {
		if !s.gone {
			a, b, c := q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]
			area[f] = norm(cross(sub(b, a), sub(c, a))) / 2
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
		out.faces = append(out.faces, [3]vec{q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]})
		for _, g := range s.next {
			if !taken[g] && q.flush(g, n, offset) {
				taken[g] = true
				queue = append(queue, g)
			}
		}
	}
	return out
}

// flush reports whether a triangle lies in a plane. Of a triangle that is thinner than
// the depth, the normal says nothing.
func (q *quickhull) flush(f int, n vec, offset float64) bool {
	s := &q.faces[f]
	for _, c := range s.corner {
		if math.Abs(dot(n, q.points[c])-offset) > flatDepth {
			return false
		}
	}
	if dot(n, s.normal) >= math.Cos(flatAngle) {
		return true
	}
	a, b, c := q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]
	longest := max(norm(sub(b, a)), norm(sub(c, a)), norm(sub(c, b)))
	return norm(cross(sub(b, a), sub(c, a))) < flatDepth*longest
}

// directions spreads n directions evenly over the sphere, along a spiral (golden
// angle).
func directions(n int) []vec {
	golden := math.Pi * (3 - math.Sqrt(5))
	list := make([]vec, n)
	for i := range list {
		z := 1 - (2*float64(i)+1)/float64(n)
		s, c := math.Sincos(golden * float64(i))
		r := math.Sqrt(1 - z*z)
		list[i] = vec{r * c, r * s, z}
	}
	return list
}

// outermost picks the point that lies farthest along each direction, in the sequence
// of the points.
func outermost(points []vec, along []vec) []vec {
	keep := make([]bool, len(points))
	for _, d := range along {
		best, most := 0, math.Inf(-1)
		for i := range points {
			if v := dot(d, points[i]); v > most {
				best, most = i, v
			}
		}
		keep[best] = true
	}
	var list []vec
	for i, k := range keep {
		if k {
			list = append(list, points[i])
		}
	}
	return list
}
