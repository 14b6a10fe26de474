package blocking

import (
	"context"
	"sync/atomic"

	"dryfit/kits/geom"
)

// Faces are the areas in which the two pieces of a pair face each other, mm2, seen along
// each axis of the model: first where B is beyond A up the axis, then down it.
type Faces [3][2]float64

// Faces measures how the pieces of each pair face each other across gaps, or overlaps, of
// up to fit mm. The list goes with Pairs.
func (m *Model) Faces(ctx context.Context, fit float64) ([]Faces, error) {
	list := make([]Faces, len(m.Pairs))
	all := m.all()
	if len(all) == 0 {
		return list, nil
	}
	for axis := range 3 {
		var w geom.Vec
		w[axis] = 1
		v := newView(w, m.Pitch, m.box(all))
		lines := make([][2]int64, len(m.Pairs))
		err := m.workers.lines(ctx, v, area{0, 0, v.cols, v.rows}, m.Pieces, all, func(_, _ int, col *column) {
			m.facing(col.stretches, fit/v.step, lines)
		})
		if err != nil {
			return nil, err
		}
		for i := range list {
			for side := range 2 {
				list[i][axis][side] = float64(lines[i][side]) * m.Pitch * m.Pitch
			}
		}
	}
	return list, nil
}

// facing counts the pairs that face each other along a line; fit is in depth codes.
func (m *Model) facing(s []stretch, fit float64, lines [][2]int64) {
	for i := range s {
		for k := i + 1; k < len(s) && float64(s[k].enter) <= float64(s[i].leave)+fit; k++ {
			a, b := s[i].piece, s[k].piece
			if a == b || float64(s[k].enter) < float64(s[i].leave)-fit || s[k].leave < s[i].leave {
				continue
			}
			n, known := m.pairOf[[2]int32{min(a, b), max(a, b)}]
			if !known {
				continue
			}
			side := 0
			if a > b {
				side = 1
			}
			atomic.AddInt64(&lines[n][side], 1)
		}
	}
}
