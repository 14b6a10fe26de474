package picture

import (
	"encoding/base64"
	"html"
	"slices"
)

const svgFont = "Liberation Sans, Arial, Helvetica, sans-serif"

// SVG writes the picture as an svg element for an HTML page; alt describes it in
// words. Units are mm, rounded to hundredths, which is finer than any printer. It
// has no ids and no links, so that a page can hold many. Lines have round ends,
// dashes flat ones. Letters have the colour of Fill, or black.
//
// What cannot be painted is left out: a path with a coordinate that is not a
// number or is beyond 100 m, a line without a width, a text without a position.
func (p *Picture) SVG(alt string) []byte {
	w, h := decimal(extent(p.Width)), decimal(extent(p.Height))
	b := []byte(`<svg role="img" width="` + w + `mm" height="` + h + `mm" viewBox="0 0 ` + w + ` ` + h + `"` +
		` fill="none" fill-rule="evenodd" stroke-linecap="round" stroke-linejoin="round" font-family="` + svgFont + `">` +
		"\n<title>" + escape(alt) + "</title>\n")
	if len(p.PNG) > 0 {
		b = append(b, `<image width="`+w+`" height="`+h+`" preserveAspectRatio="none" href="data:image/png;base64,`...)
		b = base64.StdEncoding.AppendEncode(b, p.PNG)
		b = append(b, "\"/>\n"...)
	}
	for rest := p.Marks; len(rest) > 0; {
		if rest[0].Text != "" {
			b = appendText(b, &rest[0])
			rest = rest[1:]
			continue
		}
		n := sameLook(rest)
		b = appendMarks(b, rest[:n])
		rest = rest[n:]
	}
	return append(b, "</svg>"...)
}

// extent is a size in hundredths of a mm, 0 if it is invalid.
func extent(v float64) int64 {
	n, _ := hundredths(v)
	return max(n, 0)
}

// sameLook counts the leading marks that differ only in their paths.
func sameLook(marks []Mark) int {
	n := 1
	for n < len(marks) && marks[n].Text == "" && marks[n].looksAs(&marks[0]) {
		n++
	}
	return n
}

func (m *Mark) looksAs(o *Mark) bool {
	return m.Fill == o.Fill && m.Stroke == o.Stroke && m.Width == o.Width && slices.Equal(m.Dash, o.Dash)
}

// look is how a mark is painted, as attributes; empty if it would be invisible.
func (m *Mark) look() string {
	var s string
	if m.Fill != "" {
		s = ` fill="` + escape(m.Fill) + `"`
	}
	width := extent(m.Width)
	if m.Stroke == "" || width == 0 {
		return s
	}
	s += ` stroke="` + escape(m.Stroke) + `" stroke-width="` + decimal(width) + `"`
	if dash := dashes(m.Dash); dash != "" {
		s += ` stroke-linecap="butt" stroke-dasharray="` + dash + `"`
	}
	return s
}

// dashes are lines and gaps in mm; empty, for a solid line, if one of them is
// invalid.
func dashes(list []float64) string {
	var s string
	for _, v := range list {
		n := extent(v)
		if n == 0 {
			return ""
		}
		if s != "" {
			s += " "
		}
		s += decimal(n)
	}
	return s
}

// appendMarks writes marks of one look. Lines share one path. Areas stay
// separate: in one path they would cut holes where they overlap.
func appendMarks(b []byte, marks []Mark) []byte {
	look := marks[0].look()
	if look == "" {
		return b
	}
	if marks[0].Fill == "" || len(marks) == 1 {
		return appendPath(b, look, marks)
	}
	b = append(b, "<g"+look+">\n"...)
	for i := range marks {
		b = appendPath(b, "", marks[i:i+1])
	}
	return append(b, "</g>\n"...)
}

func appendPath(b []byte, look string, marks []Mark) []byte {
	var t trace
	for i := range marks {
		for _, path := range marks[i].Paths {
			t.add(path, marks[i].Closed, marks[i].Curves)
		}
	}
	if len(t.b) == 0 {
		return b
	}
	b = append(b, "<path"+look+` d="`...)
	b = append(b, t.b...)
	return append(b, "\"/>\n"...)
}

func appendText(b []byte, m *Mark) []byte {
	size := extent(m.Size)
	if len(m.Paths) == 0 || len(m.Paths[0]) == 0 || size == 0 {
		return b
	}
	at, ok := onGrid(m.Paths[0][:1])
	if !ok {
		return b
	}
	s := `<text x="` + decimal(at[0][0]) + `" y="` + decimal(at[0][1]) + `" font-size="` + decimal(size) + `"`
	if m.Anchor == "middle" || m.Anchor == "end" {
		s += ` text-anchor="` + m.Anchor + `"`
	}
	if m.Bold {
		s += ` font-weight="bold"`
	}
	fill := m.Fill
	if fill == "" {
		fill = "#000000"
	}
	return append(b, s+` fill="`+escape(fill)+`">`+escape(m.Text)+"</text>\n"...)
}

func escape(s string) string { return html.EscapeString(Plain(s)) }
