package blocking

import (
	"cmp"
	"context"
	"slices"
)

// verify samples all moves of one leg again, with lines four times closer, over
// everything that could be in the way. It reports whether it found a new blocker,
// and keeps what it found. The legs of other moves are verified when they are
// found.
func (m *Model) verify(ctx context.Context, a *Disassembly) (bool, error) {
	bySight := map[*axis][]tally{}
	var axes []*axis
	for _, move := range a.Moves {
		if len(move.Legs) != 1 || move.Undercut > 0 {
			continue
		}
		x := m.axisFor(move.Legs[0].Toward, append(slices.Clone(move.Pieces), move.Rest...))
		if x == nil {
			continue // found by the search for legs, which verified it
		}
		if _, known := bySight[x]; !known {
			axes = append(axes, x)
		}
		bySight[x] = append(bySight[x], m.ahead(move, x)...)
	}
	found := false
	box := m.box(m.all())
	for _, x := range axes {
		slots := once(bySight[x])
		if len(slots) == 0 {
			continue
		}
		v := newView(x.dir, m.Pitch, box)
		for k := range slots {
			slots[k].tiles = v.tilesOf(v.cover(m.Pieces[slots[k].lo].Box).meet(v.cover(m.Pieces[slots[k].hi].Box)))
		}
		if err := m.refine(ctx, v, slots, stepLines); err != nil {
			return false, err
		}
		for _, s := range slots {
			x.checked[[2]int32{s.lo, s.hi}] |= s.single
			if s.done != 0 {
				x.add(pairObservation{lo: s.lo, hi: s.hi, bits: withClash(s.done), near: -1})
				found = true
			}
		}
	}
	return found, nil
}

// ahead lists the pairs of a move in which one piece could block the other, and
// that have not been refined.
func (m *Model) ahead(move Move, x *axis) []tally {
	dir := move.Legs[0].Toward
	d := 0
	if x.dir != dir {
		d = 1
	}
	var list []tally
	for _, p := range move.Pieces {
		low, _ := m.Pieces[p].Along(dir)
		for _, q := range move.Rest {
			if _, high := m.Pieces[q].Along(dir); high <= low {
				continue
			}
			plain, _ := sides(p, q, d)
			pair := [2]int32{int32(min(p, q)), int32(max(p, q))}
			if (x.bits(p, q)|x.checked[pair])&plain == 0 {
				list = append(list, tally{lo: pair[0], hi: pair[1], single: plain})
			}
		}
	}
	return list
}

// once merges the entries of each pair.
func once(list []tally) []tally {
	slices.SortFunc(list, func(a, b tally) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
	})
	var out []tally
	for _, s := range list {
		if n := len(out); n > 0 && out[n-1].lo == s.lo && out[n-1].hi == s.hi {
			out[n-1].single |= s.single
			continue
		}
		out = append(out, s)
	}
	return out
}

// tilesOf lists the tiles of the refinement that cover an area.
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

// add keeps what was seen of a pair.
func (x *axis) add(s pairObservation) {
	i, found := slices.BinarySearchFunc(x.list, s, byPair)
	if found {
		x.list[i].bits |= s.bits
		return
	}
	x.list = slices.Insert(x.list, i, s)
}
