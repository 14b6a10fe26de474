package blocking

import (
	"context"

	"dryfit/kits/geom"
	"dryfit/plan/blocking/mask"
)

// Opening is what a piece leaves clear while it is off: the largest clear
// rectangle, in mm along the other two axes in the order x, y, z.
type Opening struct {
	W, H float64
	// Fits reports whether the rectangle asked for is clear or, for a round opening, the
	// ellipse in it.
	Fits bool
}

// Opening measures along an axis of the model (0 to 2) what a piece leaves open
// while it is off. walls are the pieces that stay; whatever part of them is
// beyond inside, in mm along the axis, on the side of the piece, narrows the
// opening. want is a rectangle to look for, in mm; it may be empty.
func (m *Model) Opening(ctx context.Context, piece, axis int, inside float64, walls []int, want [2]float64) (Opening, error) {
	p := m.Pieces[piece]
	var w geom.Vec
	w[axis] = 1
	outward := (p.Min[axis]+p.Max[axis])/2 > inside
	box := m.box(append([]int{piece}, walls...))
	// The frame has the other two axes in their own order.
	var u, v geom.Vec
	u[(axis+1)%3], v[(axis+2)%3] = 1, 1
	seen := viewOf(u, v, w, m.Pitch, spanOf(u, v, w, box))
	a := seen.cover(p.Box).grow(int(openingRim/m.Pitch) + 1).meet(area{0, 0, seen.cols, seen.rows})
	open := mask.New(a.x1-a.x0, a.y1-a.y0)
	err := m.workers.lines(ctx, seen, a, m.Pieces, append([]int{piece}, walls...), func(x, y int, col *column) {
		open.Open[(y-a.y0)*open.Width+x-a.x0] = clearLine(col.stretches, int32(piece), seen, inside, outward)
	})
	if err != nil {
		return Opening{}, err
	}
	if axis == 1 { // u is z and v is x: put x first
		open = open.Transposed()
	}
	cols, rows := open.LargestRectangle()
	lines := func(mm float64) int { return max(int(mm/m.Pitch)-1, 1) }
	return Opening{
		W: float64(cols) * m.Pitch, H: float64(rows) * m.Pitch,
		Fits: open.HoldsRectangle(lines(want[0]), lines(want[1])) ||
			open.HoldsEllipse(want[0]/m.Pitch-2, want[1]/m.Pitch-2),
	}, nil
}

// openingRim is how far, in mm, an opening may extend beyond its piece.
const openingRim = 3

// clearLine reports whether a line misses all walls on the piece's side of
// inside.
func clearLine(s []stretch, piece int32, v *view, inside float64, outward bool) bool {
	for i := range s {
		enter, leave := v.w0+v.step*float64(s[i].enter), v.w0+v.step*float64(s[i].leave)
		if s[i].piece != piece && (outward && leave > inside || !outward && enter < inside) {
			return false
		}
	}
	return true
}
