package draw

// locate sets a small picture of all there is beside an enlarged one, with a frame
// where the enlarged part is.
func (t *take) locate(paper Paper) {
	if !t.zoomed {
		return
	}
	const room = inset - 4
	x := t.picture.Width - margin + 4
	h := t.picture.Height - 2*margin
	scale := fits(t.whole, room, max(h, 24))
	f := frame{view: t.view, scale: scale * resolution, left: t.whole.x0, top: t.whole.y0,
		width: int(t.whole.width()*scale*resolution) + 1, height: int(t.whole.height()*scale*resolution) + 1}
	b := newBuffer(f)
	things := t.s.things(false, t.still, Vector{})
	for i := range t.fresh {
		things = append(things, t.s.things(false, t.movers[i].Pieces, Vector{})...)
	}
	b.add(things...)
	var lines [][]Point
	for _, th := range things {
		if t.view.boxShadow(th.body).width()*scale > 1.5 {
			lines = append(lines, b.strokes(th).outline...)
		}
	}
	put := func(p Point) Point { return Point{p[0]/resolution + x, p[1]/resolution + margin} }
	for _, l := range lines {
		for i := range l {
			l[i] = put(l[i])
		}
	}
	t.mark(Mark{Paths: lines, Stroke: paleInk, Width: 0.12})
	r := t.region
	corner := func(u, v float64) Point { return Point{(u-t.whole.x0)*scale + x, (v-t.whole.y0)*scale + margin} }
	t.mark(Mark{Paths: [][]Point{{corner(r.x0, r.y0), corner(r.x1, r.y0), corner(r.x1, r.y1), corner(r.x0, r.y1)}}, Closed: true, Stroke: ink, Width: 0.45})
	t.picture.Width = x + room + 1
	t.picture.Height = max(t.picture.Height, t.whole.height()*scale+2*margin)
}
