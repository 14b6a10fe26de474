package graphviz

import (
	"fmt"
	"strings"

	"dryfit/graphviz/svg"
)

// svgCanvas writes SVG 1.1.
type svgCanvas struct{ b strings.Builder }

func svgFile(d *drawing, title string) []byte {
	c := &svgCanvas{}
	c.b.WriteString(svg.Head("420", "297", "0 0 "+svg.Number(sheetWidth)+" "+svg.Number(sheetHeight), ` xml:space="preserve"`, title))
	d.paint(c, onSheet(d))
	c.b.WriteString("</svg>\n")
	return []byte(c.b.String())
}

func (c *svgCanvas) polygon(p [][2]float64, s pen) {
	fmt.Fprintf(&c.b, "<polygon points=\"%s\"%s/>\n", svg.Points(p), attributes(s))
}

func (c *svgCanvas) polyline(p [][2]float64, s pen) {
	s.filled = false
	fmt.Fprintf(&c.b, "<polyline points=\"%s\"%s/>\n", svg.Points(p), attributes(s))
}

func (c *svgCanvas) bezier(p [][2]float64, s pen) {
	fmt.Fprintf(&c.b, "<path d=\"M%s C%s\"%s/>\n", svg.Points(p[:1]), svg.Points(p[1:]), attributes(s))
}

func (c *svgCanvas) ellipse(cx, cy, rx, ry float64, s pen) {
	fmt.Fprintf(&c.b, "<ellipse cx=\"%s\" cy=\"%s\" rx=\"%s\" ry=\"%s\"%s/>\n", svg.Number(cx), svg.Number(cy), svg.Number(rx), svg.Number(ry), attributes(s))
}

func (c *svgCanvas) text(x, y, width float64, anchor, text string, s pen) {
	style := ""
	if s.bold {
		style += ` font-weight="bold"`
	}
	if s.italic {
		style += ` font-style="italic"`
	}
	// textLength keeps the text inside its cell in any font.
	fmt.Fprintf(&c.b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\" fill=\"%s\"%s>%s</text>\n",
		svg.Number(x), svg.Number(y), svg.Number(s.size), anchor, svg.Number(width), s.colour, style, svg.Escape(text))
}

func attributes(s pen) string {
	fill := "none"
	if s.filled {
		fill = s.fill
	}
	text := fmt.Sprintf(` fill="%s" stroke="%s" stroke-width="%s"`, fill, s.colour, svg.Number(s.line))
	if s.dash {
		text += ` stroke-dasharray="4 2"`
	}
	return text
}
