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
	for k := range dir {
		dir[k] += 0 // -0 becomes 0: a box that the ray runs along the side of lies ahead of it
	}
	return &ray{from, dir, geom.Vec{1 / dir[0], 1 / dir[1], 1 / dir[2]}, math.Inf(1)}
}

// meets reports whether a ray hits a box, and how far from its start. A ray along a
// side of the box, whose distance is not a number, counts as a hit.
func (r *ray) meets(b *box3) (near float64, ok bool) {
	if b.min[0] > b.max[0] {
		return 0, false // empty
	}
	far := r.reach
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
	return near, !(near > far*(1+1e-12))
}

// branch is a node of the tree that a ray hits, and how far from its start.
type branch struct {
	node int
	near float64
}

// cast calls hit for the triangles that a ray goes through, roughly the nearest
// first, so that little is left where hit shortens the ray. It returns the number of
// triangles and boxes visited, and stops beyond most.
func (t *tree) cast(r *ray, most int, hit func(crossed)) (looked int) {
	var room [64]branch
	stack := room[:0]
	push := func(n int) {
		looked++
		if near, ok := r.meets(&t.boxes[n]); ok {
			stack = append(stack, branch{n, near})
		}
	}
	push(1)
	for len(stack) > 0 && looked <= most {
		b := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if b.near > r.reach*(1+1e-12) {
			continue // shortened since
		}
		if b.node < t.leaves {
			from := len(stack)
			push(2 * b.node)
			push(2*b.node + 1)
			if k := len(stack); k == from+2 && stack[k-1].near > stack[k-2].near {
				stack[k-1], stack[k-2] = stack[k-2], stack[k-1]
			}
			continue
		}
		first, end := t.leaf(b.node - t.leaves)
		for _, f := range t.order[first:end] {
			looked++
			c := &t.s.faces[f]
			if along, out, ok := r.through(&t.s.corners[c[0]], &t.s.corners[c[1]], &t.s.corners[c[2]]); ok && along <= r.reach {
				hit(crossed{int(f), along, out})
			}
		}
	}
	return looked
}

// through finds where a ray goes through a triangle (T. Moeller and B. Trumbore,
// "Fast, minimum storage ray/triangle intersection", 1997). Its sums are written out:
// most of an examination is spent here.
func (r *ray) through(p, q, s *[3]float32) (along float64, out, ok bool) {
	x, y, z := float64(p[0]), float64(p[1]), float64(p[2])
	ux, uy, uz := float64(q[0])-x, float64(q[1])-y, float64(q[2])-z
	vx, vy, vz := float64(s[0])-x, float64(s[1])-y, float64(s[2])-z
	d := &r.dir
	hx, hy, hz := d[1]*vz-d[2]*vy, d[2]*vx-d[0]*vz, d[0]*vy-d[1]*vx
	det := ux*hx + uy*hy + uz*hz
	if det == 0 {
		return 0, false, false
	}
	x, y, z = r.from[0]-x, r.from[1]-y, r.from[2]-z
	a := x*hx + y*hy + z*hz
	x, y, z = y*uz-z*uy, z*ux-x*uz, x*uy-y*ux
	b := d[0]*x + d[1]*y + d[2]*z
	// Nearly all triangles are missed, by a side that cannot be guessed: one branch for all
	// sides, on signs, comes before the divisions. Adding 0 makes -0 positive.
	side := math.Copysign(1, det)
	a1, b1 := a*side+0, b*side+0
	c1 := det*side*(1+1e-12) - a1 - b1
	if (math.Float64bits(a1)|math.Float64bits(b1)|math.Float64bits(c1))>>63 != 0 {
		return 0, false, false
	}
	a, b = a/det, b/det
	if !(a >= 0 && b >= 0 && a+b <= 1) {
		return 0, false, false
	}
	along = (vx*x + vy*y + vz*z) / det
	return along, det < 0, along > 0
}
