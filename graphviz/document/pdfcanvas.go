package document

import "codeberg.org/go-pdf/fpdf"

// canvas paints on the pages of a PDF. All measures are mm from the top left corner
// of the page. Each call says all that it needs, so that none depends on the one
// before.
type canvas struct {
	pdf    *fpdf.Fpdf
	links  map[string]int  // by the ID they lead to
	pages  map[string]int  // the page of an ID, from 1
	images map[string]bool // what is in the file already
	err    error
}

func (c *canvas) text(x, baseline float64, s style, text string) {
	if text == "" {
		return
	}
	c.pdf.SetFont(bookFont, s.weight, s.points)
	c.pdf.SetTextColor(s.grey, s.grey, s.grey)
	c.pdf.Text(x, baseline, text)
}

// line sets a line of text below y. What leads elsewhere has a thin rule below it.
func (c *canvas) line(x, y float64, s style, l line) {
	for _, f := range l.frags {
		c.text(x+f.x, y+s.baseline(), s, f.text)
		if c.link(x+f.x, y, f.width, s.leading(), f.link) {
			under := y + s.baseline() + s.points*mmPerPoint*0.13
			c.rule(x+f.x, under, x+f.x+f.width, under, 0.1, 150)
		}
	}
}

func (c *canvas) rule(x1, y1, x2, y2, width float64, grey int) {
	c.pen(width, grey)
	c.pdf.Line(x1, y1, x2, y2)
}

// dots is a dotted rule, as leads the eye to a page number.
func (c *canvas) dots(x1, x2, y float64) {
	if x2 <= x1 {
		return
	}
	c.pen(0.3, 120)
	c.pdf.SetLineCapStyle("round")
	c.pdf.SetDashPattern([]float64{0, 1.2}, 0)
	c.pdf.Line(x1, y, x2, y)
}

// frame is an empty box.
func (c *canvas) frame(x, y, w, h, width float64) {
	c.pen(width, 0)
	c.pdf.Rect(x, y, w, h, "D")
}

// rounded is an empty box with round corners.
func (c *canvas) rounded(x, y, w, h, radius, width float64) {
	c.pen(width, 0)
	c.pdf.RoundedRect(x, y, w, h, radius, "1234", "D")
}

// block is a full box without an edge.
func (c *canvas) block(x, y, w, h float64, grey int) {
	c.pdf.SetFillColor(grey, grey, grey)
	c.pdf.Rect(x, y, w, h, "F")
}

func (c *canvas) pen(width float64, grey int) {
	c.pdf.SetDrawColor(grey, grey, grey)
	c.pdf.SetLineWidth(width)
	c.pdf.SetDashPattern(nil, 0)
	c.pdf.SetLineCapStyle("square")
	c.pdf.SetLineJoinStyle("miter")
}

// link makes a place lead to an ID, if there is one.
func (c *canvas) link(x, y, w, h float64, id string) bool {
	to, ok := c.links[id]
	if ok {
		c.pdf.Link(x, y, w, h, to)
	}
	return ok
}

// Safety alert triangle: equilateral, with an exclamation mark in it.
const triangleSlope = 0.8660254 // height for a side of 1

// alert paints the safety alert triangle, its tip at the top of a box of the height
// given. It is full in one grey and its mark is in the other.
func (c *canvas) alert(x, y, height float64, ink, mark int) {
	side := height / triangleSlope
	c.pdf.SetFillColor(ink, ink, ink)
	c.pdf.Polygon([]fpdf.PointType{{X: x + side/2, Y: y}, {X: x + side, Y: y + height}, {X: x, Y: y + height}}, "F")
	c.pdf.SetFillColor(mark, mark, mark)
	middle, thick := x+side/2, height*0.075
	c.pdf.Polygon([]fpdf.PointType{
		{X: middle - thick, Y: y + height*0.36}, {X: middle + thick, Y: y + height*0.36},
		{X: middle + thick*0.55, Y: y + height*0.70}, {X: middle - thick*0.55, Y: y + height*0.70},
	}, "F")
	c.pdf.Circle(middle, y+height*0.815, thick*0.95, "F")
}
