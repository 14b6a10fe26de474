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

// anchors are where along a text its point lies, by the letters of Graphviz.
var anchors = map[string]string{"l": "start", "c": "middle", "r": "end"}

// paint replays a layout on a canvas.
func (d *drawing) paint(c canvas) {
	for _, ops := range d.objects {
		d.paintObject(c, ops)
	}
}

func (d *drawing) paintObject(c canvas, ops []op) {
	s := pen{colour: "#000000", fill: "#ffffff", line: 1}
	for _, o := range ops {
		p := s
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
			c.polygon(d.flip(o.Points), p)
		case "L":
			c.polyline(d.flip(o.Points), p)
		case "B", "b":
			// The layout calls every curve filled; the tree has curves as lines only.
			c.bezier(d.flip(o.Points), p)
		case "E", "e":
			p.filled = o.Op == "E"
			c.ellipse(o.Rect[0], d.height-o.Rect[1], o.Rect[2], o.Rect[3], p)
		case "T":
			c.text(o.Pt[0], d.height-o.Pt[1], o.Width, anchors[o.Align], o.Text, p)
		}
	}
}

// flip turns y over: Graphviz counts from the bottom.
func (d *drawing) flip(points [][2]float64) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, p := range points {
		out[i] = [2]float64{p[0], d.height - p[1]}
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
