package blocking

import (
	"math"

	"dryfit/kits/geom"
)

// view is the model seen along the direction w: a grid of sample lines, spread
// over the directions u and v. u, v, w are orthonormal and right-handed.
//
// The grid is shifted by odd fractions of a cell, so that no sample line runs
// along a face at round coordinates.
type view struct {
	u, v, w    geom.Vec
	pitch      float64
	u0, v0     float64 // grid coordinate of a point: (p.u)/pitch - u0
	cols, rows int
	w0, step   float64 // depth of a code: w0 + step*code
}

const (
	shiftU = 0.41421356
	shiftV = 0.73205081

	depthBits = 24
	depthCode = 1<<depthBits - 1
)

// newView is a view of the box around all pieces.
func newView(w geom.Vec, pitch float64, box geom.Box) *view {
	u, v := across(w)
	return viewOf(u, v, w, pitch, spanOf(u, v, w, box))
}

// viewOf is a view of a box given in the view's own directions.
func viewOf(across, up, along geom.Vec, pitch float64, span geom.Box) *view {
	v := &view{u: across, v: up, w: along, pitch: pitch}
	v.u0 = math.Floor(span.Min[0]/pitch) - 1 - shiftU
	v.v0 = math.Floor(span.Min[1]/pitch) - 1 - shiftV
	v.cols = int(math.Ceil(span.Max[0]/pitch-v.u0)) + 2
	v.rows = int(math.Ceil(span.Max[1]/pitch-v.v0)) + 2
	deep := max(span.Max[2]-span.Min[2], pitch)
	// Steps are powers of two and start at a multiple of themselves, so that a
	// line reads the same no matter which other pieces are in the model.
	v.step = math.Exp2(math.Ceil(math.Log2(deep * 1.002 / depthCode)))
	v.w0 = math.Floor((span.Min[2]-deep/1000)/v.step) * v.step
	return v
}

// across returns two directions that form a right-handed set with w. If w is
// along an axis of the model, so are they.
func across(w geom.Vec) (u, v geom.Vec) {
	least := 0
	for k := range 3 {
		if math.Abs(w[k]) < math.Abs(w[least]) {
			least = k
		}
	}
	var e geom.Vec
	e[least] = 1
	u = e.Cross(w).Unit()
	return u, w.Cross(u).Unit()
}

// spanOf is how far a box reaches along three directions, in mm.
func spanOf(u, v, w geom.Vec, box geom.Box) (span geom.Box) {
	for k, axis := range [3]geom.Vec{u, v, w} {
		span.Min[k], span.Max[k] = box.Along(axis)
	}
	return span
}

// area is a rectangle of the grid: columns x0 to x1-1, rows y0 to y1-1.
type area struct{ x0, y0, x1, y1 int }

func (a area) empty() bool { return a.x0 >= a.x1 || a.y0 >= a.y1 }

func (a area) meet(b area) area {
	return area{max(a.x0, b.x0), max(a.y0, b.y0), min(a.x1, b.x1), min(a.y1, b.y1)}
}

func (a area) grow(n int) area { return area{a.x0 - n, a.y0 - n, a.x1 + n, a.y1 + n} }

// cover is the area of the grid in which a box can be seen.
func (v *view) cover(box geom.Box) area {
	s := spanOf(v.u, v.v, v.w, box)
	return area{
		int(math.Floor(s.Min[0]/v.pitch - v.u0)), int(math.Floor(s.Min[1]/v.pitch - v.v0)),
		int(math.Ceil(s.Max[0]/v.pitch-v.u0)) + 1, int(math.Ceil(s.Max[1]/v.pitch-v.v0)) + 1,
	}.meet(area{0, 0, v.cols, v.rows})
}

// finer is the same view with n times as many sample lines each way.
func (v *view) finer(n int) *view {
	f := *v
	f.pitch = v.pitch / float64(n)
	// The finer grid starts at the same place, and is shifted by fractions of its
	// own cells.
	f.u0 = (v.u0+shiftU)*float64(n) - shiftU
	f.v0 = (v.v0+shiftV)*float64(n) - shiftV
	f.cols, f.rows = v.cols*n, v.rows*n
	return &f
}
