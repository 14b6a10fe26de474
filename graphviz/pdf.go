package graphviz

import (
	"bytes"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"dryfit/graphviz/fonts"
	"dryfit/graphviz/svg"
)

// pdfCanvas paints vectors and embedded fonts on one page.
type pdfCanvas struct{ p *fpdf.Fpdf }

const pdfFont = "sheet"

// pdfDate is fixed, so that the same kit gives the same bytes.
var pdfDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func pdf(d *drawing, title string) ([]byte, error) {
	p := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: sheetWidth, Ht: sheetHeight}})
	p.SetCreationDate(pdfDate)
	p.SetModificationDate(pdfDate)
	p.SetCatalogSort(true)
	p.SetTitle(printable(title), true)
	p.SetProducer(svg.Mark, false)
	p.SetAutoPageBreak(false, 0)
	for _, style := range []string{"", "B", "I", "BI"} {
		p.AddUTF8FontFromBytes(pdfFont, style, fonts.Sans(strings.Contains(style, "B"), strings.Contains(style, "I")))
	}
	p.AddPage()
	d.paint(&pdfCanvas{p}, onSheet(d))
	var out bytes.Buffer
	err := p.Output(&out)
	return out.Bytes(), err
}

// printable replaces characters beyond the basic plane, on which the PDF library fails.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return '\uFFFD'
		}
		return r
	}, s)
}

func (c *pdfCanvas) set(s pen) string {
	r, g, b := rgb(s.colour)
	c.p.SetDrawColor(r, g, b)
	c.p.SetLineWidth(s.line)
	if s.dash {
		c.p.SetDashPattern([]float64{4, 2}, 0)
	} else {
		c.p.SetDashPattern(nil, 0)
	}
	if !s.filled {
		return "D"
	}
	r, g, b = rgb(s.fill)
	c.p.SetFillColor(r, g, b)
	return "FD"
}

func rgb(hex string) (r, g, b int) {
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil {
		return 0, 0, 0 // a colour name; the tree uses none but black
	}
	return int(v >> 16 & 255), int(v >> 8 & 255), int(v & 255)
}

func (c *pdfCanvas) polygon(p [][2]float64, s pen) {
	list := make([]fpdf.PointType, len(p))
	for i, q := range p {
		list[i] = fpdf.PointType{X: q[0], Y: q[1]}
	}
	c.p.Polygon(list, c.set(s))
}

func (c *pdfCanvas) polyline(p [][2]float64, s pen) {
	s.filled = false
	style := c.set(s)
	for i, q := range p {
		if i == 0 {
			c.p.MoveTo(q[0], q[1])
		} else {
			c.p.LineTo(q[0], q[1])
		}
	}
	c.p.DrawPath(style)
}

func (c *pdfCanvas) bezier(p [][2]float64, s pen) {
	style := c.set(s)
	c.p.MoveTo(p[0][0], p[0][1])
	for i := 1; i+2 < len(p); i += 3 {
		c.p.CurveBezierCubicTo(p[i][0], p[i][1], p[i+1][0], p[i+1][1], p[i+2][0], p[i+2][1])
	}
	c.p.DrawPath(style)
}

func (c *pdfCanvas) ellipse(cx, cy, rx, ry float64, s pen) {
	c.p.Ellipse(cx, cy, rx, ry, 0, c.set(s))
}

func (c *pdfCanvas) text(x, y, width float64, anchor, text string, s pen) {
	style := ""
	if s.bold {
		style += "B"
	}
	if s.italic {
		style += "I"
	}
	text = printable(text)
	c.p.SetFont(pdfFont, style, s.size)
	r, g, b := rgb(s.colour)
	c.p.SetTextColor(r, g, b)
	switch anchor {
	case "middle":
		x -= c.p.GetStringWidth(text) / 2
	case "end":
		x -= c.p.GetStringWidth(text)
	}
	c.p.Text(x, y, text)
}
