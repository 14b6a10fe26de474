package demo

import (
	"math"
	"slices"

	"dryfit/kits/mesh/polygon"
)

// spot is a point of an outline, mm.
type spot = polygon.Point

// plate is an outline with holes, extruded along an axis, from one plane to
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
		p.side(&s, polygon.Turned(d.ring, false), min(face, d.floor), max(face, d.floor))
	}
	p.face(&s, p.from, true, p.outline, lower)
	p.face(&s, p.to, false, p.outline, upper)
	p.side(&s, polygon.Turned(p.outline, true), p.from, p.to)
	for _, h := range p.holes {
		p.side(&s, polygon.Turned(h, false), p.from, p.to)
	}
	return s.outward()
}

func (p plate) at(c spot, h float64) vec {
	var q vec
	q[p.axis], q[(p.axis+1)%3], q[(p.axis+2)%3] = h, c[0], c[1]
	return q
}

func (p plate) face(s *solid, h float64, down bool, outline []spot, holes [][]spot) {
	list, err := polygon.Triangulate(outline, holes)
	if err != nil {
		panic(err) // the outlines are those of the demonstration
	}
	for _, t := range list {
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
