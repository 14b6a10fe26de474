package blocking

import (
	"context"
	"math"
	"slices"

	"dryfit/plan/blocking/mask"
)

// passage is how the lines along which two pieces block each other lie.
type passage struct {
	width float64 // mm, of the widest disc of them, right to half a pitch
	// rim reports that they are an undercut: a strip along the rim of one piece,
	// behind which that piece continues and is free. A bar or a web across the way is
	// none, no matter how thin.
	rim bool
}

// passage measures the lines along which two pieces block each other. Each piece
// counts with its section at the depth where it blocks. It is the same for the same
// shapes wherever they are, but for half a pitch.
func (m *Model) passage(ctx context.Context, x *axis, lo, hi int32, bit uint8) (passage, error) {
	v := newView(x.dir, m.Pitch/2, m.box(m.all()))
	most := int(2 * undercutSteps[len(undercutSteps)-1])
	a := v.cover(m.Pieces[lo].Box).meet(v.cover(m.Pieces[hi].Box)).
		grow(2*most + 2).meet(area{0, 0, v.cols, v.rows})
	w, h := a.x1-a.x0, a.y1-a.y0
	lines := make([][]stretch, w*h)
	err := m.workers.lines(ctx, v, a, m.Pieces, []int{int(lo), int(hi)}, func(x, y int, col *column) {
		if len(col.stretches) > 0 {
			lines[(y-a.y0)*w+x-a.x0] = slices.Clone(col.stretches)
		}
	})
	if err != nil {
		return passage{}, err
	}
	below, above := lo, hi
	if bit == under {
		below, above = hi, lo
	}
	blocked, low, high := inWay(lines, below, above)
	wide := widest(blocked, w, h)
	near := 1.3*wide + 2
	return passage{wide * v.pitch, stripOf(low.of(lines, below), blocked, w, h, near) || stripOf(high.of(lines, above), blocked, w, h, near)}, nil
}

// widest is how many marked lines are across the widest disc of them: one at least,
// for what closer lines alone have found.
func widest(marked []bool, width, height int) float64 {
	plane := make([]float64, len(marked))
	for i, b := range marked {
		if b {
			plane[i] = mask.Far
		}
	}
	return max(2*mask.GreatestDistance(plane, width, height)-1, 1)
}

// layer is a range of depths.
type layer struct{ from, to uint32 }

func (l *layer) add(s stretch) { l.from, l.to = min(l.from, s.enter), max(l.to, s.leave) }

// of marks the lines along which a piece is within a layer.
func (l *layer) of(lines [][]stretch, piece int32) []bool {
	has := make([]bool, len(lines))
	for i, line := range lines {
		for _, s := range line {
			has[i] = has[i] || s.piece == piece && s.enter < l.to && l.from < s.leave
		}
	}
	return has
}

// inWay marks the lines along which a piece is above another, and gives the
// layers of both where this is so: the first stretch of the lower, the last of
// the upper.
func inWay(lines [][]stretch, below, above int32) (blocked []bool, low, high layer) {
	blocked = make([]bool, len(lines))
	low, high = layer{from: math.MaxUint32}, layer{from: math.MaxUint32}
	for i, line := range lines {
		first, last := -1, -1
		for k, s := range line {
			if s.piece == below && first < 0 {
				first = k
			}
			if s.piece == above {
				last = k
			}
		}
		if first >= 0 && last >= 0 && middle(line[last]) > middle(line[first]) {
			blocked[i] = true
			low.add(line[first])
			high.add(line[last])
		}
	}
	return blocked, low, high
}

// stripOf reports whether all blocked lines are near the outline of a piece, and
// near unblocked lines of it.
func stripOf(has, blocked []bool, width, height int, near float64) bool {
	rim, free := make([]float64, len(has)), make([]float64, len(has))
	for i := range has {
		if has[i] {
			rim[i] = mask.Far
		}
		if !has[i] || blocked[i] {
			free[i] = mask.Far
		}
	}
	mask.Distances(rim, width, height)
	mask.DistancesWithin(free, width, height)
	for y := 1; y < height; y++ {
		for x := 1; x < width; x++ {
			i := y*width + x
			if !blocked[i] || !blocked[i-1] || !blocked[i-width] || !blocked[i-width-1] {
				continue
			}
			if rim[i] > near*near || free[i] > near*near {
				return false
			}
		}
	}
	return true
}
