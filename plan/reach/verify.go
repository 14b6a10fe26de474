package reach

import (
	"context"
	"slices"
)

// verify looks again at all moves of one leg, with lines four times closer together,
// over the whole of what could be in the way. It reports whether something was
// found that had not been seen, and keeps it. The legs of other moves are looked at
// when they are found.
func (m *Model) verify(ctx context.Context, a *Apart) (bool, error) {
	byAxis := make([][]slot, len(m.axes))
	for _, move := range a.Moves {
		if len(move.Legs) != 1 {
			continue
		}
		d := slices.IndexFunc(m.Directions, func(v vec) bool { return norm(sub(v, move.Legs[0].Toward)) < 1e-9 })
		byAxis[d/2] = append(byAxis[d/2], m.ahead(move, d)...)
	}
	found := false
	lo, hi := m.box(m.all())
	for i, slots := range byAxis {
		slots = once(slots)
		if len(slots) == 0 {
			continue
		}
		v := newView(m.axes[i].dir, m.Pitch, lo, hi)
		for k := range slots {
			slots[k].tiles = v.tilesOf(v.cover(m.Pieces[slots[k].lo].Min, m.Pieces[slots[k].lo].Max).
				meet(v.cover(m.Pieces[slots[k].hi].Min, m.Pieces[slots[k].hi].Max)))
		}
		if err := m.closer(ctx, v, slots, stepLines); err != nil {
			return false, err
		}
		for _, s := range slots {
			if s.done != 0 {
				m.axes[i].add(seen{s.lo, s.hi, withClash(s.done)})
				found = true
			}
		}
	}
	return found, nil
}

// ahead lists the pairs of a move of which one could be in the way of the other.
func (m *Model) ahead(move Move, d int) []slot {
	var list []slot
	dir := m.Directions[d]
	for _, p := range move.Pieces {
		low, _ := m.extent(p, dir)
		for _, q := range move.Rest {
			if _, high := m.extent(q, dir); high <= low {
				continue
			}
			plain, _ := sides(p, q, d)
			if m.axes[d/2].bits(p, q)&plain == 0 {
				list = append(list, slot{lo: int32(min(p, q)), hi: int32(max(p, q)), single: plain})
			}
		}
	}
	return list
}

// extent is how far a piece's box reaches along a direction, in mm.
func (m *Model) extent(p int, dir vec) (low, high float64) {
	for i, c := range corners(m.Pieces[p].Min, m.Pieces[p].Max) {
		h := dot(c, dir)
		if i == 0 {
			low, high = h, h
		}
		low, high = min(low, h), max(high, h)
	}
	return low, high
}

// once puts the slots of a pair together.
func once(list []slot) []slot {
	slices.SortFunc(list, func(a, b slot) int {
		if a.lo != b.lo {
			return int(a.lo - b.lo)
		}
		return int(a.hi - b.hi)
	})
	var out []slot
	for _, s := range list {
		if n := len(out); n > 0 && out[n-1].lo == s.lo && out[n-1].hi == s.hi {
			out[n-1].single |= s.single
			continue
		}
		out = append(out, s)
	}
	return out
}

// tilesOf lists the tiles of the closer look that cover an area.
func (v *view) tilesOf(a area) []int32 {
	if a.empty() {
		return nil
	}
	columns := (v.cols + tileSize - 1) / tileSize
	var list []int32
	for y := a.y0 / tileSize; y <= (a.y1-1)/tileSize; y++ {
		for x := a.x0 / tileSize; x <= (a.x1-1)/tileSize; x++ {
			list = append(list, int32(y*columns+x))
		}
	}
	return list
}

// add keeps what has been seen of a pair.
func (x *axis) add(s seen) {
	i, found := slices.BinarySearchFunc(x.list, s, func(e, t seen) int {
		if e.lo != t.lo {
			return int(e.lo - t.lo)
		}
		return int(e.hi - t.hi)
	})
	if found {
		x.list[i].bits |= s.bits
		return
	}
	x.list = slices.Insert(x.list, i, s)
}
