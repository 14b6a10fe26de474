package graphviz

import (
	"context"
	"fmt"
	"math"
	"strings"

	"dryfit/graphviz/picture"
	"dryfit/graphviz/svg"
)

// Node is a build in a drawing of how the builds join.
type Node struct {
	Text  string
	Into  int    // index of the node that it joins; -1 for none
	Label string // the number of the step
}

// leastLetters is the smallest size of letters, in mm, that can be read: 7 points.
const leastLetters = 2.45

// Joining draws nodes and what they join, in at most width x height mm. The picture is nil
// if its letters would be too small to read.
func Joining(ctx context.Context, nodes []Node, width, height float64) (*picture.Picture, error) {
	var b strings.Builder
	b.WriteString("digraph joining {\n  graph [rankdir=LR, ranksep=0.5, nodesep=0.1, margin=0];\n")
	b.WriteString("  node [shape=box, fontname=Helvetica, fontsize=9, height=0.25, margin=\"0.08,0.03\"];\n  edge [fontname=Helvetica, fontsize=9, arrowsize=0.6];\n")
	for i, n := range nodes {
		fmt.Fprintf(&b, "  n%d [label=<%s>];\n", i, svg.Escape(clip(n.Text)))
	}
	for i, n := range nodes {
		if n.Into >= 0 {
			fmt.Fprintf(&b, "  n%d -> n%d [label=<%s>];\n", i, n.Into, svg.Escape(n.Label))
		}
	}
	b.WriteString("}\n")
	d, err := layOutDOT(ctx, b.String())
	if err != nil {
		return nil, err
	}
	scale := math.Min(math.Min(width/d.width, height/d.height), 25.4/72)
	const letters = 9
	if letters*scale < leastLetters {
		return nil, nil
	}
	c := &pictureCanvas{scale: scale, to: &picture.Picture{Width: d.width * scale, Height: d.height * scale}}
	d.paint(c, placement{scale: scale})
	return c.to, nil
}

// pictureCanvas paints a layout as marks of a picture. scale is mm per point, for dashes.
type pictureCanvas struct {
	scale float64
	to    *picture.Picture
}

func (c *pictureCanvas) add(m picture.Mark, p [][2]float64, s pen) {
	m.Paths, m.Stroke, m.Width = [][]picture.Point{path(p)}, s.colour, s.line
	if s.dash {
		m.Dash = []float64{4 * c.scale, 2 * c.scale}
	}
	if m.Closed && s.filled {
		m.Fill = s.fill
	}
	c.to.Add(m)
}

func path(list [][2]float64) []picture.Point {
	out := make([]picture.Point, len(list))
	for i, p := range list {
		out[i] = p
	}
	return out
}

func (c *pictureCanvas) polygon(p [][2]float64, s pen)  { c.add(picture.Mark{Closed: true}, p, s) }
func (c *pictureCanvas) polyline(p [][2]float64, s pen) { c.add(picture.Mark{}, p, s) }
func (c *pictureCanvas) bezier(p [][2]float64, s pen)   { c.add(picture.Mark{Curves: true}, p, s) }

func (c *pictureCanvas) ellipse(cx, cy, rx, ry float64, s pen) {
	var ring [][2]float64
	for i := range 32 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 32)
		ring = append(ring, [2]float64{cx + rx*cos, cy + ry*sin})
	}
	c.polygon(ring, s)
}

func (c *pictureCanvas) text(x, y, _ float64, anchor, text string, s pen) {
	c.to.Add(picture.Mark{Paths: [][]picture.Point{{{x, y}}}, Text: text, Size: s.size, Bold: s.bold, Anchor: anchor, Fill: s.colour})
}
