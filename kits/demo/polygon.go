package demo

import (
	"cmp"
	"math"
	"slices"
)

// spot is a point of an outline, mm.
type spot [2]float64

// plate is an outline with holes made thick along an axis, from one plane to
// another. The outline's first and second coordinate are the axes that follow: y
// and z for x, z and x for y, x and y for z.
type plate struct {
	axis     int
	from, to float64
	outline  []spot
	holes    [][]spot
	dents    []dent
}

// dent is a blind hole down to a floor, from the plate's upper plane or its lower.
type dent struct {
	ring  []spot
	floor float64
	upper bool
}

// prism is a plate without dents.
func prism(axis int, from, to float64, outline []spot, holes ...[]spot) solid {
	return plate{axis, from, to, outline, holes, nil}.solid()
}

func (p plate) solid() solid {
	var s solid
	lower, upper := p.holes, p.holes
	for _, d := range p.dents {
		face := p.from
		if d.upper {
			face, upper = p.to, append(slices.Clone(upper), d.ring)
		} else {
			lower = append(slices.Clone(lower), d.ring)
		}
		p.face(&s, d.floor, !d.upper, d.ring, nil)
		p.side(&s, anticlockwise(d.ring, false), min(face, d.floor), max(face, d.floor))
	}
	p.face(&s, p.from, true, p.outline, lower)
	p.face(&s, p.to, false, p.outline, upper)
	p.side(&s, anticlockwise(p.outline, true), p.from, p.to)
	for _, h := range p.holes {
		p.side(&s, anticlockwise(h, false), p.from, p.to)
	}
	return s.outward()
}

func (p plate) at(c spot, h float64) vec {
	var q vec
	q[p.axis], q[(p.axis+1)%3], q[(p.axis+2)%3] = h, c[0], c[1]
	return q
}

func (p plate) face(s *solid, h float64, down bool, outline []spot, holes [][]spot) {
	for _, t := range ears(outline, holes) {
		if down {
			t[0], t[2] = t[2], t[0]
		}
		s.triangle(p.at(t[0], h), p.at(t[1], h), p.at(t[2], h))
	}
}

// side is the wall along a ring that has its solid to the left.
func (p plate) side(s *solid, ring []spot, from, to float64) {
	for i, c := range ring {
		d := ring[(i+1)%len(ring)]
		s.quad(p.at(c, from), p.at(d, from), p.at(d, to), p.at(c, to))
	}
}

// tub is open at the top: an outline, and a hollow of as many corners in it.
func tub(axis int, outer, inner []spot, bottom, floor, top float64) solid {
	p := plate{axis: axis}
	ring := func(list []spot, h float64) []vec {
		var r []vec
		for _, c := range list {
			r = append(r, p.at(c, h))
		}
		return r
	}
	return skin(ring(outer, bottom), ring(outer, top), ring(inner, top), ring(inner, floor))
}

func rect(u0, v0, u1, v1 float64) []spot { return []spot{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}} }

// rounded corners of radius r.
func softRect(u0, v0, u1, v1, r float64) []spot {
	var ring []spot
	for n, c := range [4]spot{{u1 - r, v0 + r}, {u1 - r, v1 - r}, {u0 + r, v1 - r}, {u0 + r, v0 + r}} {
		for i := range 5 {
			angle := math.Pi / 2 * (float64(n) - 1 + float64(i)/4)
			ring = append(ring, spot{c[0] + r*math.Cos(angle), c[1] + r*math.Sin(angle)})
		}
	}
	return ring
}

func circle(u, v, across float64, n int) []spot {
	ring := make([]spot, n)
	for i := range ring {
		angle := 2 * math.Pi * (float64(i) + 0.5) / float64(n)
		ring[i] = spot{u + across/2*math.Cos(angle), v + across/2*math.Sin(angle)}
	}
	return ring
}

// bothSides adds to an outline of the starboard half, from the top down, its port
// half.
func bothSides(half ...spot) []spot {
	ring := slices.Clone(half)
	for _, p := range slices.Backward(half) {
		if p[0] != 0 {
			ring = append(ring, spot{-p[0], p[1]})
		}
	}
	return ring
}

func anticlockwise(ring []spot, wanted bool) []spot {
	var twice float64
	for i, p := range ring {
		twice += span(ring[0], p, ring[(i+1)%len(ring)])
	}
	if (twice > 0) == wanted {
		return ring
	}
	ring = slices.Clone(ring)
	slices.Reverse(ring)
	return ring
}

// span is twice the area of a triangle, positive if counter-clockwise.
func span(a, b, c spot) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }

// ears cuts an outline with holes into triangles: each hole is joined to the
// outline by a slit, then the fattest ear is clipped off until none is left.
func ears(outline []spot, holes [][]spot) [][3]spot {
	ring := anticlockwise(outline, true)
	var inner [][]spot
	for _, h := range holes {
		inner = append(inner, anticlockwise(h, false))
	}
	slices.SortFunc(inner, func(a, b []spot) int { return cmp.Compare(rightmost(b)[0], rightmost(a)[0]) })
	for i, h := range inner {
		ring = slit(ring, h, inner[i:])
	}
	var list [][3]spot
	ring = slices.Clone(ring)
	for len(ring) > 2 {
		i := fattest(ring)
		list = append(list, ear(ring, i))
		ring = slices.Delete(ring, i, i+1)
	}
	return list
}

func ear(ring []spot, i int) [3]spot {
	n := len(ring)
	return [3]spot{ring[(i+n-1)%n], ring[i], ring[(i+1)%n]}
}

// fattest is the ear with the largest smallest angle.
func fattest(ring []spot) int {
	best, most := 0, math.Inf(-1)
	for i := range ring {
		t := ear(ring, i)
		if f := fatness(t); f > 1e-12 && f > most && clearOf(ring, t) {
			best, most = i, f
		}
	}
	return best
}

// fatness is the area over the square of the longest side.
func fatness(t [3]spot) float64 {
	var longest float64
	for i := range t {
		longest = max(longest, apart(t[i], t[(i+1)%3]))
	}
	return span(t[0], t[1], t[2]) / longest
}

func apart(a, b spot) float64 { return (a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) }

func clearOf(ring []spot, t [3]spot) bool {
	for _, p := range ring {
		if p != t[0] && p != t[1] && p != t[2] &&
			span(t[0], t[1], p) >= 0 && span(t[1], t[2], p) >= 0 && span(t[2], t[0], p) >= 0 {
			return false
		}
	}
	return true
}

func rightmost(ring []spot) spot {
	return slices.MaxFunc(ring, func(a, b spot) int { return cmp.Compare(a[0], b[0]) })
}

// slit joins a hole to the nearest corner of the ring that its rightmost corner
// sees past the holes still to be joined.
func slit(ring, hole []spot, rest [][]spot) []spot {
	m := rightmost(hole)
	from := slices.Index(hole, m)
	best := -1
	for i, p := range ring {
		if best >= 0 && apart(p, m) >= apart(ring[best], m) {
			continue
		}
		a := ear(ring, i)
		left := span(a[0], a[1], m) > 0
		right := span(a[1], a[2], m) > 0
		juts := span(a[0], a[1], a[2]) >= 0
		if (juts && left && right || !juts && (left || right)) && sees(m, p, ring) && seesPast(m, p, rest) {
			best = i
		}
	}
	joined := slices.Clone(ring[:best+1])
	joined = append(joined, hole[from:]...)
	joined = append(joined, hole[:from+1]...)
	return append(joined, ring[best:]...)
}

func seesPast(a, b spot, rings [][]spot) bool {
	for _, r := range rings {
		if !sees(a, b, r) {
			return false
		}
	}
	return true
}

// sees reports whether no side of the ring crosses the line between two points.
func sees(a, b spot, ring []spot) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if p == a || p == b || q == a || q == b {
			continue
		}
		if (span(a, b, p) >= 0) != (span(a, b, q) > 0) && (span(p, q, a) >= 0) != (span(p, q, b) > 0) {
			return false
		}
	}
	return true
}
