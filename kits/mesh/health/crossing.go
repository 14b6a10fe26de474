package health

import (
	"math"

	"dryfit/kits/geom"
)

// meeting is two triangles that share more than their rims.
type meeting struct {
	a, b int // their numbers
	at   geom.Vec
	flat bool // they lie in one plane and cover each other
}

// facet is a triangle prepared for intersection tests.
type facet struct {
	face   int
	corner [3]uint32
	p      [3]geom.Vec
	n      geom.Vec // the unit normal
	off    float64  // of the plane from the origin, along the normal
}

// facet prepares a triangle. It reports false for one too thin to have a normal.
func (s *surface) facet(f *facet, face int, tiny float64) bool {
	f.face, f.corner = face, s.faces[face]
	for k, c := range f.corner {
		f.p[k] = s.point(c)
	}
	u, v, w := f.p[1].Minus(f.p[0]), f.p[2].Minus(f.p[0]), f.p[2].Minus(f.p[1])
	f.n = u.Cross(v)
	double := f.n.Length()
	if double <= tiny*math.Sqrt(max(u.Dot(u), v.Dot(v), w.Dot(w))) {
		return false
	}
	f.n = f.n.Times(1 / double)
	f.off = f.n.Dot(f.p[0])
	return true
}

// slack holds the tolerances. Tiny is the resolution of the coordinates: a corner
// this close to a plane lies in it. Common is the length that triangles must
// share to count: exporters that triangulate flat faces leave folds of a few
// thousandths of a millimetre, which no printer resolves.
type slack struct{ tiny, common float64 }

// meet reports whether two triangles cut through each other, or lie on each other.
// Touching with a corner or an edge does not count. The method is that of T. Moeller, "A fast triangle-triangle intersection
// test", 1997: each must have corners on both sides of the other's plane, and their
// intervals on the line of intersection must overlap.
func meet(a, b *facet, by slack) (at geom.Vec, flat, ok bool) {
	da, side := sides(a, b, by.tiny)
	if side == sameSide {
		return at, false, false
	}
	var db geom.Vec
	other := side
	if side != inPlane {
		db, other = sides(b, a, by.tiny)
	}
	if other == inPlane {
		if a.n.Dot(b.n) < 0.9 && a.n.Dot(b.n) > -0.9 {
			return at, false, false // a small one across a large one
		}
		at, ok = cover(a, b, by.common)
		return at, true, ok
	}
	if other == sameSide {
		return at, false, false
	}
	d := a.n.Cross(b.n)
	l := d.Length()
	if l < 1e-9 {
		return at, false, false
	}
	d = d.Times(1 / l)
	p, q := stretch(a, &da, d)
	r, s := stretch(b, &db, d)
	from, to := max(p.along, r.along), min(q.along, s.along)
	if to-from <= by.common {
		return at, false, false
	}
	// Go along the first stretch to the middle of the common part.
	return p.at.Plus(d.Times((from+to)/2 - p.along)), false, true
}

type lie int

const (
	sameSide lie = iota
	bothSides
	inPlane
)

// sides are the distances of a's corners from b's plane; if the corners are on
// both sides, those below tiny become zero. Most pairs of triangles are ruled out
// here.
func sides(a, b *facet, tiny float64) (d geom.Vec, how lie) {
	x, y, z := b.n[0], b.n[1], b.n[2]
	d[0] = x*a.p[0][0] + y*a.p[0][1] + z*a.p[0][2] - b.off
	d[1] = x*a.p[1][0] + y*a.p[1][1] + z*a.p[1][2] - b.off
	d[2] = x*a.p[2][0] + y*a.p[2][1] + z*a.p[2][2] - b.off
	low, high := d[0], d[0]
	for _, v := range d[1:] {
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
	}
	if up, down := high > tiny, low < -tiny; !up && !down {
		return d, inPlane
	} else if !up || !down {
		return d, sameSide
	}
	for k, v := range d {
		if v <= tiny && v >= -tiny {
			d[k] = 0
		}
	}
	return d, bothSides
}

// mark is a position on a line.
type mark struct {
	along float64
	at    geom.Vec
}

// stretch is the interval of a triangle on the line along d in the plane from which its
// corners have the distances dist; some are positive, some negative.
func stretch(f *facet, dist *geom.Vec, d geom.Vec) (from, to mark) {
	var marks [3]mark
	n := 0
	for k := range 3 {
		i, j := dist[k], dist[(k+1)%3]
		p, q := f.p[k], f.p[(k+1)%3]
		switch {
		case i == 0:
			marks[n].at = p
		case i > 0 && j < 0, i < 0 && j > 0:
			marks[n].at = p.Plus(q.Minus(p).Times(i / (i - j)))
		default:
			continue
		}
		marks[n].along = marks[n].at.Dot(d)
		n++
	}
	from, to = marks[0], marks[min(1, n-1)]
	if from.along > to.along {
		from, to = to, from
	}
	return from, to
}

// cover reports whether two triangles in one plane cover each other by more than
// common: no line along a side of either separates them.
func cover(a, b *facet, common float64) (at geom.Vec, ok bool) {
	if beside(a, b, common) || beside(b, a, common) {
		return at, false // most are: neighbours in a flat face
	}
	for _, f := range [2]*facet{a, b} {
		for k := range 3 {
			out := f.p[(k+1)%3].Minus(f.p[k]).Cross(f.n)
			l := out.Length()
			if l == 0 {
				return at, false
			}
			out = out.Times(1 / l)
			lowA, highA := reach(a, out)
			lowB, highB := reach(b, out)
			if min(highA, highB)-max(lowA, lowB) <= common {
				return at, false
			}
		}
	}
	for k := range 3 { // the middle of the overlap of their boxes
		low := max(min(a.p[0][k], a.p[1][k], a.p[2][k]), min(b.p[0][k], b.p[1][k], b.p[2][k]))
		high := min(max(a.p[0][k], a.p[1][k], a.p[2][k]), max(b.p[0][k], b.p[1][k], b.p[2][k]))
		at[k] = (low + high) / 2
	}
	return at, true
}

// beside quickly finds a side of a triangle beyond which lies another in its plane, but for
// common.
func beside(a, b *facet, common float64) bool {
	for k := range 3 {
		p := &a.p[k]
		out := a.p[(k+1)%3].Minus(*p).Cross(a.n)
		least := math.Inf(1)
		for i := range 3 {
			q := &b.p[i]
			least = min(least, (q[0]-p[0])*out[0]+(q[1]-p[1])*out[1]+(q[2]-p[2])*out[2])
		}
		if least >= 0 || least*least <= common*common*out.Dot(out) {
			return true
		}
	}
	return false
}

func reach(f *facet, along geom.Vec) (low, high float64) {
	x, y, z := f.p[0].Dot(along), f.p[1].Dot(along), f.p[2].Dot(along)
	return min(x, y, z), max(x, y, z)
}
