package demo

import "math"

// skin is the surface through rings of equally many corners, one after the other,
// closed by a fan at either end.
func skin(rings ...[]vec) solid {
	var s solid
	for i := range rings[1:] {
		s.band(rings[i], rings[i+1])
	}
	s.fan(rings[0], true)
	s.fan(rings[len(rings)-1], false)
	return s.outward()
}

// hoop is the surface through rings whose last one is followed by the first.
func hoop(rings ...[]vec) solid {
	var s solid
	for i := range rings {
		s.band(rings[i], rings[(i+1)%len(rings)])
	}
	return s.outward()
}

func (s *solid) band(a, b []vec) {
	for i := range a {
		j := (i + 1) % len(a)
		s.quad(a[i], a[j], b[j], b[i])
	}
}

func (s *solid) fan(ring []vec, first bool) {
	var middle vec
	for _, p := range ring {
		middle = middle.Plus(p.Times(1 / float64(len(ring))))
	}
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if first {
			p, q = q, p
		}
		s.triangle(middle, p, q)
	}
}

// round is a ring about an axis along x, y or z, with a flat side facing each way
// along the other axes if n can be divided by four. across is measured between flat
// sides, so that the ring just fits into a square hole.
func round(axis int, centre vec, across float64, n int) []vec {
	return oval(axis, centre, across, across, n)
}

func oval(axis int, centre vec, acrossU, acrossV float64, n int) []vec {
	u, v := (axis+1)%3, (axis+2)%3
	half := math.Pi / float64(n)
	ring := make([]vec, n)
	for i := range ring {
		angle := half * float64(2*i+1)
		p := centre
		p[u] += acrossU / 2 * math.Cos(angle) / math.Cos(half)
		p[v] += acrossV / 2 * math.Sin(angle) / math.Cos(half)
		ring[i] = p
	}
	return ring
}

// turned is a body of revolution about an axis along x, y or z through a centre,
// from stations {along, across}. It is closed by a flat face at either end.
func turned(axis int, centre vec, n int, stations ...[2]float64) solid {
	return skin(turnedRings(axis, centre, n, stations)...)
}

// bored is a body of revolution with a hole through it: the stations run out along
// the outside and back along the hole.
func bored(axis int, centre vec, n int, stations ...[2]float64) solid {
	return hoop(turnedRings(axis, centre, n, stations)...)
}

func turnedRings(axis int, centre vec, n int, stations [][2]float64) [][]vec {
	var rings [][]vec
	for _, s := range stations {
		c := centre
		c[axis] = s[0]
		rings = append(rings, round(axis, c, s[1], n))
	}
	return rings
}

// rod is a round bar of one thickness along an axis.
func rod(axis int, centre vec, across, from, to float64, n int) solid {
	return turned(axis, centre, n, [2]float64{from, across}, [2]float64{to, across})
}
