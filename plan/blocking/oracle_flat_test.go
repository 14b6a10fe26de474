package blocking_test

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// The exact methods against which the sampled ones are held begin here: convex
// polygons in the plane across a direction.

type vec = geom.Vec
type vec2 = [2]float64

// polygon is convex and counter-clockwise; empty when nothing is left of it.
type polygon []vec2

// hull is the convex hull of points (a monotone chain: A. M. Andrew, "Another
// efficient algorithm for convex hulls in two dimensions", Information Processing
// Letters 9, 1979).
func hull(points []vec2) polygon {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b vec2) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	p = slices.Compact(p)
	half := func() polygon {
		var run polygon
		for _, q := range p {
			for len(run) > 1 && turn(run[len(run)-2], run[len(run)-1], q) <= 0 {
				run = run[:len(run)-1]
			}
			run = append(run, q)
		}
		return run
	}
	if len(p) < 3 {
		return nil
	}
	lower := half()
	slices.Reverse(p)
	upper := half()
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// cutBy keeps what lies at least r to the left of the line from a to b.
func (p polygon) cutBy(a, b vec2, r float64) polygon {
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	if l < 1e-9 || len(p) == 0 {
		return p
	}
	side := func(q vec2) float64 { return turn(a, b, q)/l - r }
	var out polygon
	for i, q := range p {
		next := p[(i+1)%len(p)]
		s, t := side(q), side(next)
		if s >= 0 {
			out = append(out, q)
		}
		if (s >= 0) != (t >= 0) {
			f := s / (s - t)
			out = append(out, vec2{q[0] + f*(next[0]-q[0]), q[1] + f*(next[1]-q[1])})
		}
	}
	return out
}

// overlap is the part of p in q; empty if they meet in a line or a point only.
func overlap(p, q polygon) polygon {
	for i, a := range q {
		p = p.cutBy(a, q[(i+1)%len(q)], 0)
	}
	var distinct polygon
	for _, a := range p {
		if !slices.ContainsFunc(distinct, func(b vec2) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) < 1e-9 }) {
			distinct = append(distinct, a)
		}
	}
	if len(distinct) < 3 {
		return nil
	}
	return distinct
}

// eroded is where the centre of a disc of radius r inside p can be.
func (p polygon) eroded(r float64) polygon {
	rest := p
	for i, a := range p {
		if len(rest) == 0 {
			break
		}
		rest = rest.cutBy(a, p[(i+1)%len(p)], r)
	}
	return rest
}

// largest is the radius of the largest disc in p, up to 100.
func (p polygon) largest() float64 {
	low, high := 0.0, 100.0
	for range 50 {
		if mid := (low + high) / 2; len(p.eroded(mid)) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// middle is a point of p.
func (p polygon) middle() vec2 {
	var m vec2
	for _, q := range p {
		m[0] += q[0] / float64(len(p))
		m[1] += q[1] / float64(len(p))
	}
	return m
}

func turn(a, b, c vec2) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

func sub(a, b vec) vec            { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func plus(a, b vec) vec           { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func times(f float64, a vec) vec  { return vec{f * a[0], f * a[1], f * a[2]} }
func dot(a, b vec) float64        { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func norm(a vec) float64          { return math.Sqrt(dot(a, a)) }
func unit(a vec) vec              { return times(1/norm(a), a) }
func angle(a, b vec) float64      { return math.Atan2(norm(cross(a, b)), dot(a, b)) }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }

func cross(a, b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// across gives two unit vectors at right angles to d and to each other.
func across(d vec) (u, v vec) {
	least := 0
	for k := range 3 {
		if math.Abs(d[k]) < math.Abs(d[least]) {
			least = k
		}
	}
	var e vec
	e[least] = 1
	u = unit(cross(d, e))
	return u, cross(unit(d), u)
}
