package blocking

import (
	"context"

	"dryfit/kits/geom"
)

// Opening is what a piece leaves open while it is off: the largest clear rectangle,
// in mm along the other two axes in the sequence x, y, z.
type Opening struct {
	W, H float64
	// Fits reports whether the rectangle asked for is clear or, for a round opening, the
	// ellipse in it.
	Fits bool
}

// Opening looks along an axis of the model (0 to 2) at what a piece leaves open
// while it is off. walls are the pieces that stay; what of them lies beyond inside,
// in mm along the axis, on the side of the piece, narrows the opening. want is a
// rectangle to look for, in mm; it may be nothing.
func (m *Model) Opening(ctx context.Context, piece, axis int, inside float64, walls []int, want [2]float64) (Opening, error) {
	p := m.Pieces[piece]
	var w geom.Vec
	w[axis] = 1
	outward := (p.Min[axis]+p.Max[axis])/2 > inside
	box := m.box(append([]int{piece}, walls...))
	// The frame has the other two axes in their own sequence.
	var u, v geom.Vec
	u[(axis+1)%3], v[(axis+2)%3] = 1, 1
	seen := viewOf(u, v, w, m.Pitch, spanOf(u, v, w, box))
	a := seen.cover(p.Box).grow(int(openingRim/m.Pitch) + 1).meet(area{0, 0, seen.cols, seen.rows})
	width, height := a.x1-a.x0, a.y1-a.y0
	open := make([]bool, width*height)
	err := m.workers.lines(ctx, seen, a, m.Pieces, append([]int{piece}, walls...), func(x, y int, col *column) {
		open[(y-a.y0)*width+x-a.x0] = clearLine(col.stretches, int32(piece), seen, inside, outward)
	})
	if err != nil {
		return Opening{}, err
	}
	if axis == 1 { // u is z and v is x: put x first
		open, width, height = turned(open, width, height), height, width
	}
	cols, rows := largestRectangle(open, width, height)
	lines := func(mm float64) int { return max(int(mm/m.Pitch)-1, 1) }
	return Opening{
		W: float64(cols) * m.Pitch, H: float64(rows) * m.Pitch,
		Fits: holdsRectangle(open, width, height, lines(want[0]), lines(want[1])) ||
			holdsEllipse(open, width, height, want[0]/m.Pitch-2, want[1]/m.Pitch-2),
	}, nil
}

// openingRim is how far beyond a piece, in mm, its opening may reach.
const openingRim = 3

// clearLine reports whether a line meets, on the piece's side of inside, none of the
// walls.
func clearLine(s []stretch, piece int32, v *view, inside float64, outward bool) bool {
	for i := range s {
		enter, leave := v.w0+v.step*float64(s[i].enter), v.w0+v.step*float64(s[i].leave)
		if s[i].piece != piece && (outward && leave > inside || !outward && enter < inside) {
			return false
		}
	}
	return true
}

func turned(open []bool, width, height int) []bool {
	out := make([]bool, len(open))
	for y := range height {
		for x := range width {
			out[x*height+y] = open[y*width+x]
		}
	}
	return out
}

// largestRectangle is the largest rectangle of open cells, by the stack of rising
// heights that each row keeps.
func largestRectangle(open []bool, width, height int) (w, h int) {
	up := make([]int, width+1)
	var stack []int
	for y := range height {
		stack = stack[:0]
		for x := range width + 1 {
			if x < width {
				if open[y*width+x] {
					up[x]++
				} else {
					up[x] = 0
				}
			}
			for len(stack) > 0 && up[stack[len(stack)-1]] >= up[x] {
				tall := up[stack[len(stack)-1]]
				stack = stack[:len(stack)-1]
				from := 0
				if len(stack) > 0 {
					from = stack[len(stack)-1] + 1
				}
				if (x-from)*tall > w*h {
					w, h = x-from, tall
				}
			}
			stack = append(stack, x)
		}
	}
	return w, h
}

// holdsRectangle reports whether a rectangle of open cells is as large.
func holdsRectangle(open []bool, width, height, w, h int) bool {
	if w > width || h > height {
		return false
	}
	up := make([]int, width)
	for y := range height {
		run := 0
		for x := range width {
			if open[y*width+x] {
				up[x]++
			} else {
				up[x] = 0
			}
			if run++; up[x] < h {
				run = 0
			}
			if run >= w {
				return true
			}
		}
	}
	return false
}

// holdsEllipse reports whether an ellipse of open cells, so many wide and high, lies
// about the middle of the open ones.
func holdsEllipse(open []bool, width, height int, w, h float64) bool {
	sumX, sumY, n := 0.0, 0.0, 0.0
	for i, o := range open {
		if o {
			sumX, sumY, n = sumX+float64(i%width), sumY+float64(i/width), n+1
		}
	}
	for dy := -2.0; dy <= 2; dy++ {
		for dx := -2.0; dx <= 2; dx++ {
			if ellipse(open, width, height, sumX/n+dx, sumY/n+dy, w/2, h/2) {
				return true
			}
		}
	}
	return false
}

func ellipse(open []bool, width, height int, x, y, rx, ry float64) bool {
	if rx <= 0 || ry <= 0 || x-rx < 0 || y-ry < 0 || x+rx > float64(width-1) || y+ry > float64(height-1) {
		return false
	}
	for i, o := range open {
		dx, dy := (float64(i%width)-x)/rx, (float64(i/width)-y)/ry
		if !o && dx*dx+dy*dy <= 1 {
			return false
		}
	}
	return true
}
