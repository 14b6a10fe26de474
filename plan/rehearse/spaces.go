package rehearse

import (
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// intoSpaces says which of the spaces around a piece it cannot get into, when it goes to
// what is joined to a seat at the moment.
func (m *model) intoSpaces(piece int, size *kits.Size, seat int) *Failure {
	return m.enter(piece, m.kit.Around(piece), size, []int{seat})
}

// enter says which of some spaces something cannot get into. An opening is shut once the
// piece that covers it is in one group with any of the seats.
func (m *model) enter(piece int, spaces []*kits.Space, size *kits.Size, seats []int) *Failure {
	for _, s := range spaces {
		f := &Failure{Kind: TooLarge, Piece: piece, Space: s}
		open := false
		only := m.service != nil && m.service.Reach == piece && slices.ContainsFunc(s.ClosedBy, m.chosen)
		for _, c := range s.ClosedBy {
			if only && !m.chosen(c) || !passes(size, c.Opening, m.kit.Clearance) {
				continue
			}
			f.Kind = Shut
			if c.Piece == piece || !m.covered(c, seats) {
				open = true
				break
			}
			if !slices.Contains(f.Pieces, c.Piece) {
				f.Pieces = append(f.Pieces, c.Piece)
			}
		}
		if !open {
			return f
		}
	}
	return nil
}

// chosen reports whether an opening, or what covers it, is one that a service item has to
// come out by.
func (m *model) chosen(c kits.Closer) bool {
	return slices.ContainsFunc(m.service.ByOpening, func(ref kits.Ref) bool {
		return c.Name == ref.Name || c.Piece >= 0 && (m.kit.Pieces[c.Piece].ID == ref.Name || m.kit.Pieces[c.Piece].Part.ID == ref.Name)
	})
}

// covered reports whether the piece that covers an opening is on at the moment, for
// something that goes to the seats.
func (m *model) covered(c kits.Closer, seats []int) bool {
	return c.Piece >= 0 && slices.ContainsFunc(seats, func(p int) bool { return m.groups.Find(p) == m.groups.Find(c.Piece) })
}

// threaded says which space a wire cannot get into.
func (m *model) threaded(w *kits.Wire) *Failure {
	var size *kits.Size
	if w.Across != nil {
		size = &kits.Size{XYZ: [3]float64{*w.Across, *w.Across, *w.Across}}
	}
	var seen []*kits.Space
	for _, run := range w.RunsIn {
		for s := run; s != nil && !slices.Contains(seen, s); s = s.Inside {
			seen = append(seen, s)
			if f := m.enter(-1, []*kits.Space{s}, size, m.carriers(w, s)); f != nil {
				return f
			}
		}
	}
	return nil
}

// carriers lists what carries a wire inside a space: the ends and the pieces it is
// threaded through that are in the space. Where the kit puts none of them there, all count
// that do not close the space themselves.
func (m *model) carriers(w *kits.Wire, s *kits.Space) []int {
	run := plan.Step{Kind: plan.Thread, Wire: w}.To()
	var inside, around []int
	for _, p := range run {
		if slices.Contains(m.kit.Around(p), s) {
			inside = append(inside, p)
		}
		if !slices.ContainsFunc(s.ClosedBy, func(c kits.Closer) bool { return c.Piece == p }) {
			around = append(around, p)
		}
	}
	for _, list := range [][]int{inside, around} {
		if len(list) > 0 {
			return list
		}
	}
	return run
}

// sizeOf is the size of a piece as the kit says or, if it does not, as measured; nil if
// neither is known. A piece built up on the bench has the size that its join gives.
func (m *model) sizeOf(piece int) *kits.Size {
	if v := m.fits[piece]; v >= 0 && m.steps[v].Join.Size != nil {
		return m.steps[v].Join.Size
	}
	if s := m.kit.Pieces[piece].Part.Size; s != nil {
		return s
	}
	if g := m.geometry; g != nil && g.Measured[piece] {
		return &kits.Size{XYZ: g.Sizes[piece]}
	}
	return nil
}

// touching is how far, in mm, a piece may be too wide and still count as passing.
const touching = 1e-6

// passes reports whether the two smaller sides of a box, with clearance to spare, go
// through an opening at some angle. A whole side lets anything pass. What goes straight in
// passes at the angle 0, so the axis that the opening faces does not matter.
func passes(size *kits.Size, o *kits.Opening, clearance float64) bool {
	if size == nil || o == nil {
		return true
	}
	s := slices.Sorted(slices.Values(size.XYZ[:]))
	q, p := s[0]+clearance, s[1]+clearance
	a, b := max(o.W, o.H), min(o.W, o.H)
	if p <= a+touching {
		return q <= b+touching
	}
	// Turned by t, the rectangle is diagonal*cos(t-rise) wide. It is as wide as the opening
	// at one angle beyond the rise of its diagonal; turning it further only makes it higher
	// until it stands upright, and then it is p high, which is more than a.
	diagonal, rise := math.Hypot(p, q), math.Atan2(q, p)
	t := rise + math.Acos(a/diagonal)
	return t <= math.Pi/2 && diagonal*math.Sin(t+rise) <= b+touching
}
