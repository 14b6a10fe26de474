package graphviz

// sheet is A3 landscape, in points.
const (
	sheetWidth  = 420 / 25.4 * 72
	sheetHeight = 297 / 25.4 * 72
	sheetMargin = 8 / 25.4 * 72
)

// onSheet is a canvas that scales a drawing to fill the sheet and centres it.
type onSheet struct {
	to    canvas
	scale float64
	x, y  float64
}

func fit(d *drawing, to canvas) onSheet {
	s := min((sheetWidth-2*sheetMargin)/d.width, (sheetHeight-2*sheetMargin)/d.height, 2)
	return onSheet{to, s, (sheetWidth - s*d.width) / 2, (sheetHeight - s*d.height) / 2}
}

func (o onSheet) points(list [][2]float64) [][2]float64 {
	out := make([][2]float64, len(list))
	for i, p := range list {
		out[i] = [2]float64{o.x + o.scale*p[0], o.y + o.scale*p[1]}
	}
	return out
}

func (o onSheet) scaled(s pen) pen {
	s.line *= o.scale
	s.size *= o.scale
	return s
}

func (o onSheet) polygon(p [][2]float64, s pen)  { o.to.polygon(o.points(p), o.scaled(s)) }
func (o onSheet) polyline(p [][2]float64, s pen) { o.to.polyline(o.points(p), o.scaled(s)) }
func (o onSheet) bezier(p [][2]float64, s pen)   { o.to.bezier(o.points(p), o.scaled(s)) }

func (o onSheet) ellipse(cx, cy, rx, ry float64, s pen) {
	o.to.ellipse(o.x+o.scale*cx, o.y+o.scale*cy, o.scale*rx, o.scale*ry, o.scaled(s))
}

func (o onSheet) text(x, y, width float64, anchor, text string, s pen) {
	o.to.text(o.x+o.scale*x, o.y+o.scale*y, o.scale*width, anchor, text, o.scaled(s))
}
