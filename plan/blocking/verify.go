package blocking

import (
	"cmp"
	"context"
	"slices"

	"dryfit/kits/geom"
)

// verify samples all moves of one leg again, with lines four times closer, over
// everything that could be in the way. It reports whether it found a new blocker,
// and keeps what it found. The legs of other moves are verified when they are
// found.
func (m *Model) verify(ctx context.Context, a *Disassembly) (bool, error) {
	byAxis := map[*axis][]question{}
	var axes []*axis
	known := map[geom.Vec][]outline{}
	outlines := func(dir geom.Vec) []outline {
		if known[dir] == nil {
			known[dir] = m.outlines(dir)
		}
		return known[dir]
	}
	for _, move := range a.Moves {
		if len(move.Legs) != 1 || move.Undercut > 0 {
			continue
		}
		x := m.axisFor(move.Legs[0].Toward, append(slices.Clone(move.Pieces), move.Rest...))
		if x == nil {
			continue // found by the search for legs, which verified it
		}
		if _, known := byAxis[x]; !known {
			axes = append(axes, x)
		}
		byAxis[x] = append(byAxis[x], m.ahead(move, x, outlines(move.Legs[0].Toward))...)
	}
	found := false
	for i, x := range axes {
		m.tell("looking closer along the moves", float64(i)/float64(len(axes)))
		more, err := m.verifyAlong(ctx, x, once(byAxis[x]), cross)
		if err != nil {
			return false, err
		}
		found = found || more
	}
	return found, nil
}

// verifyAlong answers questions along an axis everywhere, and keeps the answers. It
// reports whether anything asked was found.
func (m *Model) verifyAlong(ctx context.Context, x *axis, list []question, p patch) (bool, error) {
	if len(list) == 0 {
		return false, nil
	}
	v := newView(x.dir, m.Pitch, m.box(m.all()))
	at, err := m.everywhere(ctx, v, list)
	if err != nil {
		return false, err
	}
	if err := m.refine(ctx, v, list, at, p, 0); err != nil {
		return false, err
	}
	found := false
	for _, q := range list {
		x.checked[[2]int32{q.lo, q.hi}] |= q.want
		if q.found != 0 {
			x.add(pairObservation{lo: q.lo, hi: q.hi, bits: withClash(q.found), near: -1})
			found = true
		}
	}
	return found, nil
}

// everywhere lists the tiles of the refinement in which lines may say what is
// asked: both pieces are there, in that order or one beside the other.
func (m *Model) everywhere(ctx context.Context, v *view, list []question) ([]place, error) {
	var which []int
	for _, q := range list {
		which = append(which, int(q.lo), int(q.hi))
	}
	slices.Sort(which)
	prints, err := m.footprints(ctx, v.finer(finerTimes), closeSize, slices.Compact(which), nil)
	if err != nil {
		return nil, err
	}
	var at []place
	for i, q := range list {
		a, b := prints[q.lo], prints[q.hi]
		over := a.meet(b.area)
		for y := over.y0; y < over.y1; y++ {
			for x := over.x0; x < over.x1; x++ {
				if m.possible(a.at(x, y), b.at(x, y), v.step)&q.want != 0 {
					at = append(at, place{int32(y*v.closeCols() + x), int32(i)})
				}
			}
		}
	}
	return at, nil
}

// possible is what lines of a tile may say of two pieces; step is mm for a code.
func (m *Model) possible(lo, hi extent, step float64) uint8 {
	bits := ordered(lo, hi)
	if shared(lo.all(), hi.all())*step > m.Depth {
		bits |= clashes
	}
	return bits
}

// shared is how much of a range of depths lies in another, in codes; negative is a gap.
func shared(a, b depths) float64 {
	return float64(min(a.high, b.high)) - float64(max(a.low, b.low))
}

// ordered is what lines of a tile may say of the order of two pieces: middles of
// stretches are compared, and these lie between the middles of what lines enter and leave
// by.
func ordered(lo, hi extent) (bits uint8) {
	for _, d := range []depths{lo.enter, lo.leave, hi.enter, hi.leave} {
		if d.empty() {
			return 0
		}
	}
	if hi.enter.high+hi.leave.high > lo.enter.low+lo.leave.low {
		bits |= upper
	}
	if lo.enter.high+lo.leave.high > hi.enter.low+hi.leave.low {
		bits |= under
	}
	return bits
}

// ahead lists the pairs of a move in which one piece could block the other, and
// that have not been refined.
func (m *Model) ahead(move Move, x *axis, at []outline) []question {
	dir := move.Legs[0].Toward
	d := 0
	if x.dir != dir {
		d = 1
	}
	var list []question
	for _, p := range move.Pieces {
		for _, q := range move.Rest {
			if !at[q].beyond(&at[p]) {
				continue
			}
			plain := side(p, q, d)
			pair := [2]int32{int32(min(p, q)), int32(max(p, q))}
			if (x.bits(p, q)|x.checked[pair])&plain == 0 {
				list = append(list, question{lo: pair[0], hi: pair[1], want: plain})
			}
		}
	}
	return list
}

// once merges the entries of each pair.
func once(list []question) []question {
	slices.SortFunc(list, func(a, b question) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
	})
	var out []question
	for _, s := range list {
		if n := len(out); n > 0 && out[n-1].lo == s.lo && out[n-1].hi == s.hi {
			out[n-1].want |= s.want
			continue
		}
		out = append(out, s)
	}
	return out
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
