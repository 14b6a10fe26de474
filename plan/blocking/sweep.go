package blocking

import (
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// sweep lists which of some pieces are in the way when a piece, displaced by an
// offset, travels a distance along a direction. Offset and distance are in mm;
// the distance may be infinite.
func (m *Model) sweep(ctx context.Context, piece int, others []int, offset geom.Vec, leg geom.Leg) ([]int, error) {
	p := m.Pieces[piece]
	there := p.Box.Moved(offset)
	v := newView(leg.Toward, m.Pitch, m.box(append([]int{piece}, others...)).Around(there))
	a := v.cover(there)
	back, front := there.Along(leg.Toward)
	var seen []int
	for _, o := range others {
		low, high := m.Pieces[o].Along(leg.Toward)
		if high > back && low < front+leg.Distance && !a.meet(v.cover(m.Pieces[o].Box)).empty() {
			seen = append(seen, o)
		}
	}
	if len(seen) == 0 {
		return nil, nil
	}
	plates, err := m.workers.drawMoved(ctx, v, a, m.Pieces, append(slices.Clone(seen), piece), piece, offset)
	if err != nil {
		return nil, err
	}
	eyes := make([]*sweeper, m.workers.size())
	for i := range eyes {
		eyes[i] = &sweeper{piece: int32(piece), reach: leg.Distance/v.step - m.Depth/v.step,
			col: newColumn(len(m.Pieces)), hits: map[int32]bool{}}
	}
	err = m.workers.strips(ctx, plates, func(worker int, a area, shared bool, load func(*strip)) {
		load(&eyes[worker].strip)
		eyes[worker].read(ctx, a, shared)
	})
	var hits []int
	for _, e := range eyes {
		for h := range e.hits {
			hits = append(hits, int(h))
		}
	}
	slices.Sort(hits)
	return slices.Compact(hits), err
}

// sweeper finds the pieces that are hit along four neighbouring lines.
type sweeper struct {
	piece int32
	reach float64 // in depth codes; infinite if the piece leaves for good
	col   *column
	strip strip
	hits  map[int32]bool

	rows [2][][]int32 // pieces hit on each line of this row and the one before
}

func (s *sweeper) read(ctx context.Context, a area, shared bool) {
	width, rows := a.x1-a.x0, a.y1-a.y0
	if shared {
		rows++
	}
	for k := range s.rows {
		s.rows[k] = slices.Grow(s.rows[k][:0], width)[:width]
	}
	for y := range rows {
		if ctx.Err() != nil {
			return
		}
		now, before := s.rows[y&1], s.rows[1-y&1]
		for x := range width {
			s.col.read(s.strip.line(y*width + x))
			now[x] = s.hit(now[x][:0])
			if x == 0 || y == 0 {
				continue
			}
			for _, q := range now[x] {
				if slices.Contains(now[x-1], q) && slices.Contains(before[x], q) && slices.Contains(before[x-1], q) {
					s.hits[q] = true
				}
			}
		}
	}
}

// hit lists the pieces that the moving piece meets along a line.
func (s *sweeper) hit(list []int32) []int32 {
	for i := range s.col.stretches {
		a := &s.col.stretches[i]
		if a.piece != s.piece {
			continue
		}
		for k := range s.col.stretches {
			b := &s.col.stretches[k]
			if b.piece != s.piece && middle(*b) > middle(*a) && !slices.Contains(list, b.piece) &&
				(math.IsInf(s.reach, 1) || float64(b.enter)-float64(a.leave) < s.reach) {
				list = append(list, b.piece)
			}
		}
	}
	return list
}

// Distance is how far, in mm, a piece can leave along a direction before it meets
// another; infinite if it meets none, or if the meshes cannot be read again.
func (m *Model) Distance(piece, other, direction int) float64 {
	leg := geom.Leg{Toward: m.Directions[direction], Distance: math.Inf(1)}
	box := m.box([]int{piece, other})
	free := func(d float64) bool {
		leg.Distance = d
		hits, err := m.sweep(context.Background(), piece, []int{other}, geom.Vec{}, leg)
		return err != nil || len(hits) == 0
	}
	far := box.Size().Length()
	if free(math.Inf(1)) {
		return math.Inf(1)
	}
	near := 0.0
	for far-near > m.Pitch/4 {
		middle := (near + far) / 2
		if free(middle) {
			near = middle
		} else {
			far = middle
		}
	}
	return near
}
