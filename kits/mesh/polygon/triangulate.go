// Package polygon cuts flat outlines with holes into triangles.
package polygon

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Point is a point of an outline.
type Point = [2]float64

// Turned is the ring in the given sense: counter-clockwise or not.
func Turned(ring []Point, counterclockwise bool) []Point {
	var twice float64
	for i, p := range ring {
		twice += geom.Turn(ring[0], p, ring[(i+1)%len(ring)])
	}
	if (twice > 0) == counterclockwise {
		return ring
	}
	ring = slices.Clone(ring)
	slices.Reverse(ring)
	return ring
}

// Triangulate cuts an outline with holes into triangles: each hole is joined to the
// outline by a slit, then the fattest ear is clipped off until none is left. The error is
// that the outline or a hole crosses itself or another, or is too thin to be told from a line.
func Triangulate(outline []Point, holes [][]Point) ([][3]Point, error) {
	ring := Turned(outline, true)
	var inner [][]Point
	for _, h := range holes {
		inner = append(inner, Turned(h, false))
	}
	slices.SortFunc(inner, func(a, b []Point) int { return cmp.Compare(rightmost(b)[0], rightmost(a)[0]) })
	for i, h := range inner {
		if ring = slit(ring, h, inner[i:]); ring == nil {
			return nil, errShape
		}
	}
	var list [][3]Point
	ring = slices.Clone(ring)
	for len(ring) > 2 {
		i := fattest(ring)
		if i < 0 {
			return nil, errShape
		}
		list = append(list, ear(ring, i))
		ring = slices.Delete(ring, i, i+1)
	}
	return list, nil
}

var errShape = errors.New("outlines cross, or are too thin to be cut into triangles")

func ear(ring []Point, i int) [3]Point {
	n := len(ring)
	return [3]Point{ring[(i+n-1)%n], ring[i], ring[(i+1)%n]}
}

// fattest is the ear with the largest smallest angle; -1 if there is none.
func fattest(ring []Point) int {
	best, most := -1, math.Inf(-1)
	for i := range ring {
		t := ear(ring, i)
		if f := fatness(t); f > 1e-12 && f > most && clearOf(ring, t) {
			best, most = i, f
		}
	}
	return best
}

// fatness is the area over the square of the longest side.
func fatness(t [3]Point) float64 {
	var longest float64
	for i := range t {
		longest = max(longest, apart(t[i], t[(i+1)%3]))
	}
	return geom.Turn(t[0], t[1], t[2]) / longest
}

func apart(a, b Point) float64 { return (a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) }

func clearOf(ring []Point, t [3]Point) bool {
	for _, p := range ring {
		if p != t[0] && p != t[1] && p != t[2] &&
			geom.Turn(t[0], t[1], p) >= 0 && geom.Turn(t[1], t[2], p) >= 0 && geom.Turn(t[2], t[0], p) >= 0 {
			return false
		}
	}
	return true
}

func rightmost(ring []Point) Point {
	return slices.MaxFunc(ring, func(a, b Point) int { return cmp.Compare(a[0], b[0]) })
}

// slit joins a hole to the nearest corner of the ring that its rightmost corner
// sees past the holes still to be joined; nil if it sees none.
func slit(ring, hole []Point, rest [][]Point) []Point {
	m := rightmost(hole)
	from := slices.Index(hole, m)
	best := -1
	for i, p := range ring {
		if best >= 0 && apart(p, m) >= apart(ring[best], m) {
			continue
		}
		a := ear(ring, i)
		left := geom.Turn(a[0], a[1], m) > 0
		right := geom.Turn(a[1], a[2], m) > 0
		juts := geom.Turn(a[0], a[1], a[2]) >= 0
		if (juts && left && right || !juts && (left || right)) && sees(m, p, ring) && seesPast(m, p, rest) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	joined := slices.Clone(ring[:best+1])
	joined = append(joined, hole[from:]...)
	joined = append(joined, hole[:from+1]...)
	return append(joined, ring[best:]...)
}

func seesPast(a, b Point, rings [][]Point) bool {
	for _, r := range rings {
		if !sees(a, b, r) {
			return false
		}
	}
	return true
}

// sees reports whether no side of the ring crosses the line between two points.
func sees(a, b Point, ring []Point) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if p == a || p == b || q == a || q == b {
			continue
		}
		if (geom.Turn(a, b, p) >= 0) != (geom.Turn(a, b, q) > 0) && (geom.Turn(p, q, a) >= 0) != (geom.Turn(p, q, b) > 0) {
			return false
		}
	}
	return true
}
