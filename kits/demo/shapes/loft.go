package shapes

import "math"

// loft is the surface through rings of equally many corners, closed at either end
// by a fan from the middle, so the first and the last ring must be seen whole from
// there. A ring may run together into one point.
func loft(rings ...[]point) body {
	var b body
	b.bands(rings)
	b.fan(rings[0])
	last := rings[len(rings)-1]
	b.fan(backwards(last))
	return b.outward()
}

// hoop is the surface through rings of which the last is followed by the first: what
// has a hole right through it.
func hoop(rings ...[]point) body {
	var b body
	b.bands(append(rings, rings[0]))
	return b.outward()
}

func (b *body) bands(rings [][]point) {
	for i := range rings[1:] {
		p, q := rings[i], rings[i+1]
		for k := range p {
			n := (k + 1) % len(p)
			b.quad(p[k], p[n], q[n], q[k])
		}
	}
}

// fan closes a ring from behind as the bands leave it.
func (b *body) fan(ring []point) {
	middle := middleOf(ring)
	for k, p := range ring {
		b.triangle(middle, ring[(k+1)%len(ring)], p)
	}
}

func backwards(ring []point) []point {
	out := make([]point, len(ring))
	for i, p := range ring {
		out[len(ring)-1-i] = p
	}
	return out
}

// The axes along which rings and turned bodies stand.
const (
	alongX = 0
	alongY = 1
	alongZ = 2
)

// round is a ring of n corners about an axis, with flats facing along the other two
// axes where n can be divided by four; r is to the corners.
func round(axis int, centre point, r float64, n int) []point { return oval(axis, centre, r, r, n) }

// oval has its two radii along the axes that follow.
func oval(axis int, centre point, ru, rv float64, n int) []point {
	ring := make([]point, n)
	for k := range ring {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(n))
		p := centre
		p[(axis+1)%3] += ru * cos
		p[(axis+2)%3] += rv * sin
		ring[k] = p
	}
	return ring
}

// turned is a body of revolution about an axis through a centre: a line of (along,
// radius), from end to end.
func turned(axis int, centre point, n int, line ...[2]float64) body {
	return loft(turnedRings(axis, centre, n, line)...)
}

// bored is one with a hole through it: the line runs along the outside and back
// along the hole.
func bored(axis int, centre point, n int, line ...[2]float64) body {
	return hoop(turnedRings(axis, centre, n, line)...)
}

func turnedRings(axis int, centre point, n int, line [][2]float64) [][]point {
	var rings [][]point
	for _, s := range line {
		c := centre
		c[axis] = s[0]
		rings = append(rings, round(axis, c, s[1], n))
	}
	return rings
}

// rod is a round bar.
func rod(axis int, centre point, r, from, to float64, n int) body {
	return turned(axis, centre, n, [2]float64{from, r}, [2]float64{to, r})
}
