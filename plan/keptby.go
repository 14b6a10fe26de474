package plan

import "slices"

// KeptBy is a piece that keeps what a step put on from coming off the finished model past
// all that stays, by the meshes, once its own join and some others are undone: -1 if
// nothing is known to keep it.
func (r *Constraints) KeptBy(step int, undone []bool) int {
	if r.Geometry == nil {
		return -1
	}
	m, seat := r.opened(undone, step), r.Steps[step].Base()
	m.allGroups()
	stays := func(o int32) bool { return m.group(int(o)) == m.group(seat) }
	for _, p := range r.Steps[step].Movers() {
		if by := m.keptBy(m.unit(m.group(p)), seat, stays); by >= 0 {
			return by
		}
	}
	return -1
}

// WalledBy is a piece that keeps another from being got at on the finished model by the
// meshes, once some joins are undone: the piece alone would not get out past all that it is
// joined to. It is -1 if nothing is known to.
func (r *Constraints) WalledBy(piece int, undone []bool) int {
	if r.Geometry == nil {
		return -1
	}
	m := r.opened(undone)
	m.allGroups()
	return m.keptBy([]int32{int32(piece)}, r.Steps[r.StepOf(r.Kit.Fitted(piece))].Base(), func(o int32) bool {
		return int(o) != piece && m.group(int(o)) == m.group(piece)
	})
}

// keptBy is a piece that stays and keeps some that move together from leaving in each
// direction, and by the legs of a single piece. Of several it is one in the direction with
// the fewest, preferably not the seat, which blocks most sides.
func (m *moment) keptBy(moving []int32, seat int, stays func(int32) bool) int {
	g := m.Geometry
	if !slices.ContainsFunc(moving, func(p int32) bool { return g.Measured[p] }) {
		return -1
	}
	if len(moving) == 1 && slices.ContainsFunc(g.Legs[int(moving[0])], func(l Legs) bool { return !slices.ContainsFunc(l.InTheWay, stays) }) {
		return -1
	}
	fewest, by := 2*len(m.Kit.Pieces)+1, -1
	for d := range g.Directions {
		n, one := 0, -1
		for _, p := range moving {
			for _, o := range g.InTheWay[d][p] {
				if !stays(o) || g.undercut(int(p), o, d) > 0 {
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
