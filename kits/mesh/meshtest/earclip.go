package meshtest

import (
	"cmp"
	"slices"
)

// Triangulate cuts a polygon with holes into triangles, counter-clockwise, that use
// its corners and no others: ear clipping after each hole was joined to what
// surrounds it by a bridge (D. Eberly, "Triangulation by Ear Clipping", 2002). The
// time grows with the cube of the corners.
func Triangulate(outer [][2]float64, holes [][][2]float64) [][3][2]float64 {
	ring := counterClockwise(outer)
	var inner [][][2]float64
	for _, h := range holes {
		inner = append(inner, reversed(counterClockwise(h)))
	}
	// From the right to the left: what a hole's rightmost corner sees further to the
	// right is then already part of the ring.
	slices.SortFunc(inner, func(a, b [][2]float64) int {
		return cmp.Compare(b[rightmost(b)][0], a[rightmost(a)][0])
	})
	for i, h := range inner {
		ring = bridge(ring, h, inner[i:])
	}
	return clip(ring)
}

// bridge cuts the ring open to the hole at the nearest corner that its rightmost
// corner sees. rest are the holes not yet joined, this one included.
func bridge(ring, hole [][2]float64, rest [][][2]float64) [][2]float64 {
	from := rightmost(hole)
	m := hole[from]
	best := -1
	for i, p := range ring {
		if best >= 0 && distance2(p, m) >= distance2(ring[best], m) {
			continue
		}
		if inCone(ring, i, m) && inCone(hole, from, p) && sees(m, p, ring) && seesAll(m, p, rest) {
			best = i
		}
	}
	if best < 0 {
		panic("meshtest: triangulate: a hole does not lie inside its polygon")
	}
	joined := slices.Clone(ring[:best+1])
	joined = append(joined, hole[from:]...)
	joined = append(joined, hole[:from+1]...)
	return append(joined, ring[best:]...)
}

func clip(ring [][2]float64) [][3][2]float64 {
	ring = slices.Clone(ring)
	var list [][3][2]float64
	for len(ring) >= 3 {
		ear := -1
		for i := range ring {
			if isEar(ring, i) {
				ear = i
				break
			}
		}
		if ear < 0 {
			panic("meshtest: triangulate: the polygon is not simple")
		}
		a, b, c := around(ring, ear)
		list = append(list, [3][2]float64{a, b, c})
		ring = slices.Delete(ring, ear, ear+1)
	}
	return list
}

// isEar reports whether the corner juts out and nothing of the ring is in it or on
// its cut.
func isEar(ring [][2]float64, i int) bool {
	a, b, c := around(ring, i)
	if area2(a, b, c) <= 0 {
		return false
	}
	for _, p := range ring {
		if p == a || p == b || p == c {
			continue
		}
		if area2(a, b, p) >= 0 && area2(b, c, p) >= 0 && area2(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// inCone reports whether p lies on the ring's inner side as seen from its i-th
// corner.
func inCone(ring [][2]float64, i int, p [2]float64) bool {
	a, b, c := around(ring, i)
	if area2(a, b, c) >= 0 {
		return area2(a, b, p) > 0 && area2(b, c, p) > 0
	}
	return area2(a, b, p) > 0 || area2(b, c, p) > 0
}

func seesAll(m, p [2]float64, rings [][][2]float64) bool {
	for _, r := range rings {
		if !sees(m, p, r) {
			return false
		}
	}
	return true
}

// sees reports whether no edge of the ring meets the line from m to p other than at
// its ends.
func sees(m, p [2]float64, ring [][2]float64) bool {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if onLine(m, p, a) {
			return false
		}
		s, t := area2(m, p, a), area2(m, p, b)
		u, v := area2(a, b, m), area2(a, b, p)
		if (s > 0) != (t > 0) && s != 0 && t != 0 && (u > 0) != (v > 0) && u != 0 && v != 0 {
			return false
		}
	}
	return true
}

// onLine reports whether a lies on the line from m to p, its ends left out.
func onLine(m, p, a [2]float64) bool {
	if a == m || a == p || area2(m, p, a) != 0 {
		return false
	}
	along := (a[0]-m[0])*(p[0]-m[0]) + (a[1]-m[1])*(p[1]-m[1])
	return along > 0 && along < distance2(m, p)
}

func around(ring [][2]float64, i int) (a, b, c [2]float64) {
	n := len(ring)
	return ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
}

func rightmost(ring [][2]float64) int {
	best := 0
	for i, p := range ring {
		if p[0] > ring[best][0] {
			best = i
		}
	}
	return best
}

func counterClockwise(ring [][2]float64) [][2]float64 {
	if len(ring) < 3 {
		panic("meshtest: a polygon has three corners or more")
	}
	var twice float64
	for i, p := range ring {
		twice += area2(ring[0], p, ring[(i+1)%len(ring)])
	}
	if twice == 0 {
		panic("meshtest: the polygon has no area")
	}
	if twice < 0 {
		return reversed(ring)
	}
	return slices.Clone(ring)
}

func reversed(ring [][2]float64) [][2]float64 {
	out := slices.Clone(ring)
	slices.Reverse(out)
	return out
}

// area2 is twice the area of a triangle, negative when it runs clockwise.
func area2(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

func distance2(a, b [2]float64) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return dx*dx + dy*dy
}
