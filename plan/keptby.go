package plan

import "slices"

// KeptBy is a piece that keeps what a step put on from coming off the finished model past
// all that stays, by the meshes, once its own join and some others are undone: -1 if
// nothing is known to keep it.
func (r *Constraints) KeptBy(step int, undone []bool) int {
	if r.Geometry == nil {
		return -1
	}
	m := r.opened(step, undone)
	for _, p := range r.Steps[step].Movers() {
		if by := m.keptBy(p, r.Steps[step].Base()); by >= 0 {
			return by
		}
	}
	return -1
}

// keptBy is a piece that is joined to the seat and keeps another, with all that is joined
// to that, from leaving in each direction, and by the legs of a single piece. Of several it
// is one in the direction with the fewest, preferably not the seat, which blocks most sides.
func (m *moment) keptBy(piece, seat int) int {
	g := m.Geometry
	var moving []int
	for q := range m.group {
		if m.group[q] == m.group[piece] {
			moving = append(moving, q)
		}
	}
	if !slices.ContainsFunc(moving, func(p int) bool { return g.Measured[p] }) {
		return -1
	}
	stays := func(o int32) bool { return m.group[o] == m.group[seat] }
	if len(moving) == 1 && slices.ContainsFunc(g.Legs[piece], func(l Legs) bool { return !slices.ContainsFunc(l.InTheWay, stays) }) {
		return -1
	}
	fewest, by := 2*len(m.Kit.Pieces)+1, -1
	for d := range g.Directions {
		n, one := 0, -1
		for _, p := range moving {
			for _, o := range g.InTheWay[d][p] {
				if !stays(o) || g.undercut(p, o, d) > 0 {
					continue
				}
				if n++; one < 0 || one == seat {
					one = int(o)
				}
				if int(o) == seat {
					n += len(m.Kit.Pieces)
				}
			}
		}
		if n == 0 {
			return -1
		}
		if n < fewest {
			fewest, by = n, one
		}
	}
	return by
}
