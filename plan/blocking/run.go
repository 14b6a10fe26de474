package blocking

import (
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// runSize is how many triangles that follow each other in a mesh make a run. Most
// files list neighbours one after the other.
const runSize = 128

// run is where some triangles are: in a box, and how they lie along the fixed axes. In a
// fine mesh a run is smaller than a tile, so that a view needs no more than this of most.
type run struct {
	min, max [3]float32
	lie
}

// lie is how triangles lie along the fixed axes.
type lie struct {
	along   [slanted][2]float32 // the depths along those that are not main axes, mm
	normals [2][3]float32       // the box around the unit normals
}

// Of the fixed axes, as [fixedAxes] lists them, those that are not axes of the model.
const (
	slanted      = 10
	throughEdges = 6 // the first of them: through the edges of a cube; the others through its corners
)

// runOf is where some triangles are, of which there is at least one.
func runOf(list []mesh.Triangle) run {
	r := run{min: list[0][0], max: list[0][0]}
	for i := range list {
		for c := range 3 {
			for k, x := range list[i][c] {
				r.min[k], r.max[k] = min(r.min[k], x), max(r.max[k], x)
			}
		}
	}
	r.take(list)
	return r
}

// take sets how the triangles lie.
func (l *lie) take(list []mesh.Triangle) {
	var low, high [slanted]float64
	for k := range slanted {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
	}
	n := [2]geom.Vec{{1, 1, 1}, {-1, -1, -1}}
	before := &list[0]
	for i := range list {
		t := &list[i]
		for c := range t {
			if i > 0 && (t[c] == before[0] || t[c] == before[1] || t[c] == before[2]) {
				continue // neighbours share corners
			}
			for k, d := range slantedSums(t[c]) {
				if d < low[k] {
					low[k] = d
				}
				if d > high[k] {
					high[k] = d
				}
			}
		}
		before = t
		unit, sure := unitNormal(t)
		if !sure {
			n = [2]geom.Vec{{-1, -1, -1}, {1, 1, 1}}
		}
		for k, x := range unit {
			n[0][k], n[1][k] = min(n[0][k], x), max(n[1][k], x)
		}
	}
	for k := range slanted {
		length := 1 / math.Sqrt2
		if k >= throughEdges {
			length = 1 / math.Sqrt(3)
		}
		l.along[k] = [2]float32{below(low[k] * length), beyond(high[k] * length)}
	}
	l.normals = [2][3]float32{n[0].Single(), n[1].Single()}
}

// slantedSums is how far a point is along the slanted axes, times the length of their
// coordinates in whole numbers: sums, since it is done for the corners of all triangles.
func slantedSums(p [3]float32) [slanted]float64 {
	x, y, z := float64(p[0]), float64(p[1]), float64(p[2])
	return [slanted]float64{x + y, x - y, x + z, x - z, y + z, y - z, x + y + z, x + y - z, x - y + z, x - y - z}
}

// below and beyond are the next numbers of single precision down and up: what is rounded
// to them lies between.
func below(x float64) float32  { return math.Nextafter32(float32(x), float32(math.Inf(-1))) }
func beyond(x float64) float32 { return math.Nextafter32(float32(x), float32(math.Inf(1))) }

// unitNormal is the normal of a triangle; not sure if rounding may decide it.
func unitNormal(t *mesh.Triangle) (n geom.Vec, sure bool) {
	n = normal(t)
	length, sides := n.Length(), 0.0
	for k, x := range t[0] {
		one, other := float64(t[1][k])-float64(x), float64(t[2][k])-float64(x)
		sides += one*one + other*other
	}
	if length <= 1e-6*sides {
		return geom.Vec{}, false
	}
	return n.Times(1 / length), true
}

// surelyFaces is the least cosine between a line and a normal that no rounding turns
// around; ours.
const surelyFaces = 1e-4

// facing is how all triangles of a run face lines along w, which may have any length.
func (l *lie) facing(w geom.Vec) facing {
	sure := surelyFaces * w.Length()
	low, high := 0.0, 0.0
	for k := range 3 {
		a, b := float64(l.normals[0][k])*w[k], float64(l.normals[1][k])*w[k]
		low, high = low+min(a, b), high+max(a, b)
	}
	switch {
	case low > sure:
		return leaving
	case high < -sure:
		return entering
	}
	return edgeOn
}

// hair is more than rounding takes off, in lines.
const hair = 1e-6

// lines is the columns and rows of a view that a run may meet.
func (s *scan) lines(r *run) area {
	left, right := r.reach(s.u, s.onU)
	low, high := r.reach(s.v, s.onV)
	left, right = left-s.u0-hair, right-s.u0+hair
	low, high = low-s.v0-hair, high-s.v0+hair
	return area{above(max(left, 0)), above(max(low, 0)), above(right), above(high)}
}

// onAxis is a direction that may lie along a fixed axis.
type onAxis struct {
	axis int     // its number; -1 if it does not
	per  float64 // how much of the direction a mm along the axis is
}

// onFixedAxis looks for the fixed axis of a direction of any length.
func onFixedAxis(d geom.Vec) onAxis {
	for i, w := range fixedAxes() {
		if d.Cross(w).Length() <= 1e-14*d.Length() {
			return onAxis{i, d.Dot(w)}
		}
	}
	return onAxis{-1, 0}
}

// reach is how far a run reaches along a direction.
func (r *run) reach(d geom.Vec, a onAxis) (low, high float64) {
	switch {
	case a.axis < 0:
		for k := range 3 {
			x, y := float64(r.min[k])*d[k], float64(r.max[k])*d[k]
			low, high = low+min(x, y), high+max(x, y)
		}
		return low, high
	case a.axis < mainAxes:
		low, high = float64(r.min[a.axis])*a.per, float64(r.max[a.axis])*a.per
	default:
		span := &r.along[a.axis-mainAxes]
		low, high = float64(span[0])*a.per, float64(span[1])*a.per
	}
	return min(low, high), max(low, high)
}
