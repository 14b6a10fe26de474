package draw

import (
	"slices"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// locate sets a small picture of the whole scene beside an enlarged one, with a frame
// around the enlarged part.
func (t *painter) locate() {
	if !t.zoomed {
		return
	}
	x, scale := t.inner.Width-margin+locatorGap, t.locatorScale()
	things := t.s.things(false, t.still, geom.Vec{})
	for i := range t.fresh {
		things = append(things, t.s.things(false, t.movers[i].Pieces, geom.Vec{})...)
	}
	b := newBuffer(framing(t.view, t.whole, scale), things...)
	large := slices.DeleteFunc(things, func(th thing) bool { return t.view.boxShadow(th.body.Box).width()*scale <= 1.5 })
	lines := inMM(longOnes(b.strokes(large...).outline, 0.5*resolution), x, margin)
	t.mark(picture.Mark{Paths: lines, Stroke: paleInk, Width: 0.12})
	r := t.region
	x0, x1 := (r.x0-t.whole.x0)*scale+x, (r.x1-t.whole.x0)*scale+x
	y0, y1 := (r.y0-t.whole.y0)*scale+margin, (r.y1-t.whole.y0)*scale+margin
	t.mark(picture.Mark{Paths: [][]picture.Point{rectangle(x0, y0, x1, y1)}, Closed: true, Stroke: ink, Width: 0.45})
}

// locatorGap is the room between a picture and its locator, in mm.
const locatorGap = 4.0

// locatorScale is mm of paper in a locator per mm of the model.
func (t *painter) locatorScale() float64 {
	return fits(t.whole, inset-locatorGap, max(t.inner.Height-2*margin, 24))
}

// longOnes leaves out lines that would only be dots in a small picture.
func longOnes(lines [][]picture.Point, least float64) [][]picture.Point {
	var out [][]picture.Point
	for _, l := range lines {
		long := 0.0
		for i := 1; i < len(l); i++ {
			long += distance(l[i-1], l[i])
		}
		if long >= least {
			out = append(out, l)
		}
	}
	return out
}
