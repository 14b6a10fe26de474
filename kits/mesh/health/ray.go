package health

import (
	"math"

	"dryfit/kits/geom"
)

// crossed is where a ray goes through a triangle.
type crossed struct {
	face  int
	along float64 // distance from the start of the ray
	out   bool    // the ray comes from behind the triangle
}

// ray is a half-line cast at triangles.
type ray struct {
	from, dir geom.Vec
	over      geom.Vec // 1/dir
	reach     float64  // how far it goes
}

func newRay(from, dir geom.Vec) *ray {
	return &ray{from, dir, geom.Vec{1 / dir[0], 1 / dir[1], 1 / dir[2]}, math.Inf(1)}
}

// meets reports whether a ray hits a box. A ray along a side of the box, whose
// distance is not a number, counts as a hit.
func (r *ray) meets(b *box3) bool {
	if b.min[0] > b.max[0] {
		return false // empty
	}
	near, far := 0.0, r.reach
	for k := range 3 {
		p := (float64(b.min[k]) - r.from[k]) * r.over[k]
		q := (float64(b.max[k]) - r.from[k]) * r.over[k]
		if p > q {
			p, q = q, p
		}
		if p > near {
			near = p
		}
		if q < far {
			far = q
		}
	}
	return !(near > far*(1+1e-12))
}

// cast calls hit for the triangles that a ray goes through, in no order. hit may
// shorten the ray. It returns the number of triangles and boxes visited, and
// stops beyond most.
func (t *tree) cast(r *ray, most int, hit func(crossed)) (looked int) {
	stack := make([]int, 1, 2*t.depth()+2)
	stack[0] = 1
	for len(stack) > 0 && looked <= most {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		looked++
		if !r.meets(&t.boxes[n]) {
			continue
		}
		if n < t.leaves {
			stack = append(stack, 2*n+1, 2*n)
			continue
		}
		for _, f := range t.leaf(n - t.leaves) {
			looked++
			p := t.s.triangle(int(f))
			if along, out, ok := r.through(&p); ok && along <= r.reach {
				hit(crossed{int(f), along, out})
			}
		}
	}
	return looked
}

// through finds where a ray goes through a triangle (T. Moeller and B. Trumbore,
// "Fast, minimum storage ray/triangle intersection", 1997).
func (r *ray) through(p *[3]geom.Vec) (along float64, out, ok bool) {
	u, v := p[1].Minus(p[0]), p[2].Minus(p[0])
	h := r.dir.Cross(v)
	det := u.Dot(h)
	if det == 0 {
		return 0, false, false
	}
	s := r.from.Minus(p[0])
	a := s.Dot(h) / det
	if !(a >= 0 && a <= 1) {
		return 0, false, false
	}
	q := s.Cross(u)
	b := r.dir.Dot(q) / det
	if !(b >= 0 && a+b <= 1) {
		return 0, false, false
	}
	along = v.Dot(q) / det
	return along, det < 0, along > 0
}
