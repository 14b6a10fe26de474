package graphviz

import (
	"strconv"
	"strings"
)

// canvas is what a layout is painted on. Coordinates are in points from the top left
// corner; anchor is start, middle or end.
type canvas interface {
	polygon(points [][2]float64, s pen)
	polyline(points [][2]float64, s pen)
	bezier(points [][2]float64, s pen)
	ellipse(cx, cy, rx, ry float64, s pen)
	text(x, y, width float64, anchor, text string, s pen)
}

// pen is how lines, areas and texts are painted.
type pen struct {
	colour, fill string // "#rrggbb"
	filled       bool
	line         float64 // width in points
	dash         bool
	size         float64
	bold, italic bool
}

// anchors maps the letters of Graphviz to the anchor of a text.
var anchors = map[string]string{"l": "start", "c": "middle", "r": "end"}

// paint replays a layout on a canvas.
func (d *drawing) paint(c canvas, at placement) {
	for _, ops := range d.objects {
		d.paintObject(c, at, ops)
	}
}

func (d *drawing) paintObject(c canvas, at placement, ops []op) {
	s := pen{colour: "#000000", fill: "#ffffff", line: 1}
	for _, o := range ops {
		p := s
		p.line, p.size = s.line*at.scale, s.size*at.scale
		switch o.Op {
		case "c":
			s.colour = opaque(o.Color)
		case "C":
			s.fill = opaque(o.Color)
		case "S":
			s.style(o.Style)
		case "F":
			s.size = o.Size
		case "t":
			s.bold, s.italic = o.Flags&1 != 0, o.Flags&2 != 0
		case "P", "p":
			p.filled = o.Op == "P"
			c.polygon(d.placed(o.Points, at), p)
		case "L":
			c.polyline(d.placed(o.Points, at), p)
		case "B", "b":
			// Graphviz marks every curve as filled; in the tree curves are only
			// lines.
			c.bezier(d.placed(o.Points, at), p)
		case "E", "e":
			p.filled = o.Op == "E"
			middle := d.point([2]float64{o.Rect[0], o.Rect[1]}, at)
			c.ellipse(middle[0], middle[1], at.scale*o.Rect[2], at.scale*o.Rect[3], p)
		case "T":
			from := d.point(o.Pt, at)
			c.text(from[0], from[1], at.scale*o.Width, anchors[o.Align], o.Text, p)
		}
	}
}

// point is where a point is painted. Graphviz counts y from the bottom.
func (d *drawing) point(p [2]float64, at placement) [2]float64 {
	return [2]float64{at.x + at.scale*p[0], at.y + at.scale*(d.height-p[1])}
}

func (d *drawing) placed(points [][2]float64, at placement) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, p := range points {
		out[i] = d.point(p, at)
	}
	return out
}

func (s *pen) style(text string) {
	switch {
	case strings.HasPrefix(text, "setlinewidth("):
		if w, err := strconv.ParseFloat(strings.TrimSuffix(text[len("setlinewidth("):], ")"), 64); err == nil {
			s.line = w
		}
	case text == "dashed" || text == "dotted":
		s.dash = true
	case text == "solid":
		s.dash = false
	case text == "bold":
		s.line = max(s.line, 2)
	}
}

// opaque drops the transparency that Graphviz may add.
func opaque(s string) string {
	if len(s) == 9 && s[0] == '#' {
		return s[:7]
	}
	return s
}
