package graphviz

import (
	"fmt"
	"strings"
)

// svgCanvas writes SVG 1.1.
type svgCanvas struct{ b strings.Builder }

// svgStart is how every SVG starts.
const svgStart = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- " + mark + " -->\n"

const svgFont = `Helvetica, Arial, 'Liberation Sans', sans-serif`

func svg(d *drawing, title string) []byte {
	c := &svgCanvas{}
	c.b.WriteString(svgStart)
	fmt.Fprintf(&c.b, `<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="297mm" viewBox="0 0 %s %s" role="img" xml:space="preserve" font-family="%s">`+"\n",
		num(sheetWidth), num(sheetHeight), svgFont)
	fmt.Fprintf(&c.b, "<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#ffffff\"/>\n", html(title))
	d.paint(fit(d, c))
	c.b.WriteString("</svg>\n")
	return []byte(c.b.String())
}

func (c *svgCanvas) polygon(p [][2]float64, s look) {
	fmt.Fprintf(&c.b, "<polygon points=\"%s\"%s/>\n", points(p), attributes(s))
}

func (c *svgCanvas) polyline(p [][2]float64, s look) {
	s.filled = false
	fmt.Fprintf(&c.b, "<polyline points=\"%s\"%s/>\n", points(p), attributes(s))
}

func (c *svgCanvas) bezier(p [][2]float64, s look) {
	fmt.Fprintf(&c.b, "<path d=\"M%s C%s\"%s/>\n", points(p[:1]), points(p[1:]), attributes(s))
}

func (c *svgCanvas) ellipse(cx, cy, rx, ry float64, s look) {
	fmt.Fprintf(&c.b, "<ellipse cx=\"%s\" cy=\"%s\" rx=\"%s\" ry=\"%s\"%s/>\n", num(cx), num(cy), num(rx), num(ry), attributes(s))
}

func (c *svgCanvas) text(x, y, width float64, anchor, text string, s look) {
	style := ""
	if s.bold {
		style += ` font-weight="bold"`
	}
	if s.italic {
		style += ` font-style="italic"`
	}
	at := map[string]string{"l": "start", "r": "end"}[anchor]
	if at == "" {
		at = "middle"
	}
	// textLength keeps the text inside its cell whatever font the reader has.
	fmt.Fprintf(&c.b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\" fill=\"%s\"%s>%s</text>\n",
		num(x), num(y), num(s.size), at, num(width), s.pen, style, html(text))
}

func attributes(s look) string {
	fill := "none"
	if s.filled {
		fill = s.fill
	}
	text := fmt.Sprintf(` fill="%s" stroke="%s" stroke-width="%s"`, fill, s.pen, num(s.line))
	if s.dash {
		text += ` stroke-dasharray="4 2"`
	}
	return text
}

func points(list [][2]float64) string {
	parts := make([]string, len(list))
	for i, p := range list {
		parts[i] = num(p[0]) + "," + num(p[1])
	}
	return strings.Join(parts, " ")
}

// num writes a coordinate with two decimals, so that the text does not depend on
// the last bits of a sum.
func num(v float64) string {
	s := fmt.Sprintf("%.2f", v)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
