package document

import (
	"math"
	"strconv"

	"dryfit/graphviz/picture"
)

// maxPicture is the most height a picture takes on a page, in mm.
const maxPicture = 150.0

// sized is a picture as an atom, with its width.
type sized struct {
	atom
	width float64
}

// picture makes one ready to be painted at its own size, or smaller where it would be
// wider or higher than it may. No picture, or one without size, is an atom of no
// height.
func (s *setter) picture(p *picture.Picture, width, height float64) sized {
	if !visible(p) {
		return sized{}
	}
	return s.pictureAt(p, min(1, width/p.Width, height/p.Height))
}

// trimmed is a picture that gives up what is empty above and below its drawing, so that
// more pages hold two steps. Its scale stays.
func (s *setter) trimmed(p *picture.Picture, width, height float64) sized {
	if !visible(p) {
		return sized{}
	}
	top, bottom := inked(p)
	scale := min(1, width/p.Width, height/(bottom-top))
	whole := s.pictureAt(p, scale)
	return sized{atom{(bottom - top) * scale, func(c *canvas, x, y float64) {
		whole.paint(c, x, y-top*scale)
	}}, whole.width}
}

// inked is from where to where a picture has anything, in mm from its top. One that
// has nothing, or a PNG, is taken as it is.
func inked(p *picture.Picture) (top, bottom float64) {
	if len(p.PNG) > 0 {
		return 0, p.Height
	}
	top, bottom = p.Height, 0
	for _, m := range p.Marks {
		above, below := m.Width/2, m.Width/2
		if m.Text != "" {
			above, below = m.Size, m.Size*0.3
		}
		for _, path := range m.Paths {
			if !finite(path) {
				continue
			}
			for _, q := range path {
				top, bottom = min(top, q[1]-above), max(bottom, q[1]+below)
			}
		}
	}
	const edge = 0.5
	if top, bottom = max(0, top-edge), min(p.Height, bottom+edge); bottom > top {
		return top, bottom
	}
	return 0, p.Height
}

// pictureAt is a picture at a share of its own size.
func (s *setter) pictureAt(p *picture.Picture, scale float64) sized {
	texts := map[int]string{}
	for i, m := range p.Marks {
		if m.Text != "" {
			texts[i] = s.oneLine(m.Text)
		}
	}
	paint := func(c *canvas, x, y float64) {
		(&painter{canvas: c, letters: s.letters, x: x, y: y, scale: scale, texts: texts}).paint(p)
	}
	return sized{atom{p.Height * scale, paint}, p.Width * scale}
}

// painter paints one picture. It remembers the look of the last mark, as most have
// that of the one before.
type painter struct {
	*canvas
	*letters
	x, y, scale float64
	texts       map[int]string

	pen, brush string
	width      float64
	dashed     bool
	set        bool
}

func (t *painter) paint(p *picture.Picture) {
	c := t.canvas
	c.pdf.ClipRect(t.x, t.y, p.Width*t.scale, p.Height*t.scale, false)
	if len(p.PNG) > 0 {
		c.image(p.PNG, t.x, t.y, p.Width*t.scale, p.Height*t.scale)
	}
	for i, m := range p.Marks {
		if len(m.Paths) == 0 {
			continue
		}
		if m.Text != "" {
			t.label(m, t.texts[i])
		} else {
			t.mark(m)
		}
	}
	c.pdf.ClipEnd()
	// The end of the clip brings back the colour from before it, of which the writer
	// knows nothing: it would set the next text in that colour.
	c.pdf.SetFillColor(0, 0, 0)
}

// mark paints lines and areas. Points that are no numbers spoil their path only.
func (t *painter) mark(m picture.Mark) {
	how := operator(m)
	if how == "" {
		return
	}
	pdf := t.canvas.pdf
	t.look(m)
	any := false
	for _, path := range m.Paths {
		if len(path) < 2 || !finite(path) {
			continue
		}
		any = true
		x, y := t.at(path[0])
		pdf.MoveTo(x, y)
		if m.Curves {
			t.curves(path)
		} else {
			for _, p := range path[1:] {
				x, y := t.at(p)
				pdf.LineTo(x, y)
			}
		}
		if m.Closed {
			pdf.ClosePath()
		}
	}
	if any {
		pdf.DrawPath(how)
	}
}

func (t *painter) curves(path []picture.Point) {
	for i := 1; i+2 < len(path); i += 3 {
		x1, y1 := t.at(path[i])
		x2, y2 := t.at(path[i+1])
		x3, y3 := t.at(path[i+2])
		t.canvas.pdf.CurveBezierCubicTo(x1, y1, x2, y2, x3, y3)
	}
}

// operator says how the library paints a mark. The stars are for areas within areas
// to be holes; without them, what is a hole would depend on the sense of its path.
func operator(m picture.Mark) string {
	switch {
	case m.Fill != "" && m.Stroke != "":
		return "FD*"
	case m.Fill != "":
		return "F*"
	case m.Stroke != "":
		return "D"
	}
	return ""
}

func (t *painter) look(m picture.Mark) {
	pdf := t.canvas.pdf
	if m.Fill != "" && m.Fill != t.brush {
		pdf.SetFillColor(colour(m.Fill))
		t.brush = m.Fill
	}
	if m.Stroke == "" {
		return
	}
	if m.Stroke != t.pen {
		pdf.SetDrawColor(colour(m.Stroke))
		t.pen = m.Stroke
	}
	// Thinner lines vanish on a printer (common practice).
	width := max(m.Width*t.scale, 0.08)
	if dashed := len(m.Dash) > 0; !t.set || dashed || t.dashed {
		pdf.SetDashPattern(t.dash(m.Dash), 0)
		pdf.SetLineJoinStyle("round")
		pdf.SetLineCapStyle(map[bool]string{false: "round", true: "butt"}[dashed])
		t.dashed = dashed
	}
	if !t.set || width != t.width {
		pdf.SetLineWidth(width)
		t.width = width
	}
	t.set = true
}

// dash is a pattern that a reader takes: nothing below nothing, and not all nothing.
func (t *painter) dash(pattern []float64) []float64 {
	var list []float64
	sum := 0.0
	for _, d := range pattern {
		if !(d >= 0) || d > pageHeight {
			return nil
		}
		list = append(list, d*t.scale)
		sum += d * t.scale
	}
	if sum < 0.05 {
		return nil
	}
	return list
}

// label paints a text. It is made smaller with its picture, but not so far that it
// cannot be read.
func (t *painter) label(m picture.Mark, text string) {
	const readable = 7.5 * mmPerPoint
	if len(m.Paths[0]) == 0 || !finite(m.Paths[0][:1]) || !(m.Size > 0) || m.Size > pageHeight {
		return
	}
	size := max(m.Size*t.scale, min(m.Size, readable))
	look := style{points: size / mmPerPoint}
	if m.Bold {
		look.weight = "B"
	}
	x, y := t.at(m.Paths[0][0])
	switch m.Anchor {
	case "middle":
		x -= t.letters.width(look, text) / 2
	case "end":
		x -= t.letters.width(look, text)
	}
	pdf := t.canvas.pdf
	pdf.SetFont(bookFont, look.weight, look.points)
	pdf.SetTextColor(colour(m.Fill))
	pdf.Text(x, y, text)
}

func (t *painter) at(p picture.Point) (x, y float64) {
	return t.x + p[0]*t.scale, t.y + p[1]*t.scale
}

// finite reports whether all of a path can be written. What is as far off as this is
// not seen.
func finite(path []picture.Point) bool {
	const far = 1e5
	for _, p := range path {
		if !(math.Abs(p[0]) < far && math.Abs(p[1]) < far) {
			return false
		}
	}
	return true
}

// colour of "#rrggbb"; anything else is black.
func colour(hex string) (r, g, b int) {
	if len(hex) != 7 || hex[0] != '#' {
		return 0, 0, 0
	}
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return 0, 0, 0
	}
	return int(v >> 16), int(v >> 8 & 255), int(v & 255)
}
