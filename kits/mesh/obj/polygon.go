package obj

import (
	"errors"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// maxSteps bounds the work of cutting the polygons of one file: the largest of a
// kit need some millions.
const maxSteps = 2_000_000_000

// maxCorners is the most corners that a polygon may have.
const maxCorners = 100_000

// cutter cuts flat polygons into triangles. It keeps its memory from one polygon to
// the next.
type cutter struct {
	steps int // done so far, for all polygons
	flat  [][2]float64
	ring  []int
	bent  []bool // corners that an ear must not contain: those that bend inwards
}

// cut produces triangles as three numbers of corners of the polygon, which runs
// counter-clockwise. A polygon that bends outward at every corner is cut as a fan;
// any other by ears (G. H. Meisters, "Polygons have ears", 1975): a corner that
// bends outward, with no other corner in its triangle, is cut off. The polygon
// need not be quite flat: it is projected along its mean normal (Newell).
func (c *cutter) cut(p [][3]float32, triangle func(i, j, k int)) error {
	switch {
	case len(p) == 3:
		triangle(0, 1, 2)
		return nil
	case len(p) > maxCorners:
		return errors.New("a face with more than 100,000 corners; triangulate the faces before export")
	}
	c.project(p)
	if c.bulges() {
		for i := 2; i < len(p); i++ {
			triangle(0, i-1, i)
		}
		return nil
	}
	return c.ears(triangle)
}

// project projects the polygon along the axis in which its normal is longest.
func (c *cutter) project(p [][3]float32) {
	n := newell(p)
	x, y := 1, 2
	a := geom.Vec{math.Abs(n[0]), math.Abs(n[1]), math.Abs(n[2])}
	switch {
	case a[1] > a[0] && a[1] >= a[2]:
		x, y = 2, 0
		n[0] = n[1]
	case a[2] > a[0]:
		x, y = 0, 1
		n[0] = n[2]
	}
	if n[0] < 0 {
		x, y = y, x
	}
	c.flat, c.ring = c.flat[:0], c.ring[:0]
	for i, q := range p {
		c.flat = append(c.flat, [2]float64{float64(q[x]), float64(q[y])})
		c.ring = append(c.ring, i)
	}
}

// newell is a vector along the mean normal of a polygon.
func newell(p [][3]float32) (n geom.Vec) {
	o := geom.Point(p[0])
	for i := 2; i < len(p); i++ {
		x := geom.Point(p[i-1]).Minus(o).Cross(geom.Point(p[i]).Minus(o))
		n = geom.Vec{n[0] + x[0], n[1] + x[1], n[2] + x[2]}
	}
	return n
}

// bulges reports whether every corner bends outward and the ring goes round once.
func (c *cutter) bulges() bool {
	n := len(c.flat)
	drops := 0 // changes from going right to going left: one for a ring that goes round once
	for i := range n {
		a, b, d := c.flat[i], c.flat[(i+1)%n], c.flat[(i+2)%n]
		if geom.Turn(a, b, d) <= 0 {
			return false
		}
		if right(a, b) && !right(b, d) {
			drops++
		}
	}
	return drops == 1
}

func right(a, b [2]float64) bool { return b[0] > a[0] || b[0] == a[0] && b[1] > a[1] }

func (c *cutter) ears(triangle func(i, j, k int)) error {
	c.bent = c.bent[:0]
	for i := range c.ring {
		c.bent = append(c.bent, c.turnAt(i) <= 0)
	}
	at, tried := 0, 0
	loose := false // also ears of no area, when there are no others
	for len(c.ring) > 3 {
		if tried == len(c.ring) {
			if loose {
				return errors.New("a face whose sides cross or overlap; triangulate the faces before export")
			}
			loose, tried = true, 0
		}
		at %= len(c.ring)
		if !c.ear(at, loose) {
			at, tried = at+1, tried+1
			if c.steps > maxSteps {
				return errors.New("the faces have too many corners to triangulate; do it before export")
			}
			continue
		}
		i, j, k := c.around(at)
		triangle(i, j, k)
		c.ring = slices.Delete(c.ring, at, at+1)
		for _, n := range []int{at - 1, at} {
			n = (n + len(c.ring)) % len(c.ring)
			c.bent[c.ring[n]] = c.turnAt(n) <= 0
		}
		tried, loose = 0, false
		at++ // twice at the same place would make slivers
	}
	triangle(c.ring[0], c.ring[1], c.ring[2])
	return nil
}

// around is a corner of what is left of the ring, between its neighbours.
func (c *cutter) around(at int) (before, here, after int) {
	n := len(c.ring)
	return c.ring[(at+n-1)%n], c.ring[at], c.ring[(at+1)%n]
}

func (c *cutter) turnAt(at int) float64 {
	i, j, k := c.around(at)
	return geom.Turn(c.flat[i], c.flat[j], c.flat[k])
}

// ear reports whether the corner can be cut off: only a corner that bends inward
// can lie in its triangle. One on the rim counts, but not one at the triangle's
// own corners: rings with a bridge to a hole pass a point twice.
func (c *cutter) ear(at int, loose bool) bool {
	i, j, k := c.around(at)
	a, b, d := c.flat[i], c.flat[j], c.flat[k]
	c.steps++
	if t := geom.Turn(a, b, d); t < 0 || t == 0 && !loose {
		return false
	}
	c.steps += len(c.ring)
	for _, n := range c.ring {
		p := c.flat[n]
		if !c.bent[n] || p == a || p == b || p == d {
			continue
		}
		u, v, w := geom.Turn(a, b, p), geom.Turn(b, d, p), geom.Turn(d, a, p)
		if u >= 0 && v >= 0 && w >= 0 && (!loose || u > 0 && v > 0 && w > 0) {
			return false
		}
	}
	return true
}
