package explain

import (
	"slices"

	"dryfit/kits/disjoint"
)

// comesOff reports whether, by the meshes, what a step put on can come off again
// past all that stays, once the given joins are undone. What came off before is
// out of the way. If it cannot come off, by is a piece that keeps it there.
// Without measurements nothing is known to keep it.
func (r *explainer) comesOff(step int, undone []bool) (off bool, by int) {
	if r.Geometry == nil {
		return true, -1
	}
	s := r.Steps[step]
	groups := r.groupsWithout(step, undone)
	for _, p := range s.Movers() {
		moving := r.inGroup(groups, p)
		stays := r.inGroup(groups, s.Base())
		if by := r.keptBy(moving, stays, s.Base()); by >= 0 {
			return false, by
		}
	}
	return true, -1
}

// walledBy is a piece that keeps one from being got at once some joins are undone; -1 if
// none does, as without meshes.
func (r *explainer) walledBy(piece int, undone []bool) int {
	if r.Geometry == nil {
		return -1
	}
	stays := r.inGroup(r.groupsWithout(-1, undone), piece)
	return r.keptBy([]int{piece}, slices.DeleteFunc(stays, func(p int) bool { return p == piece }), r.Steps[r.StepOf(r.Kit.Fitted(piece))].Base())
}

// groupsWithout are the groups of pieces once a join and those undone are cut.
func (r *explainer) groupsWithout(step int, undone []bool) *disjoint.Sets {
	groups := disjoint.New(len(r.Kit.Pieces))
	for v, s := range r.Steps {
		if v == step || undone[v] {
			continue
		}
		for _, p := range s.Pieces() {
			groups.Join(s.Base(), p)
		}
	}
	return groups
}

func (r *explainer) inGroup(groups *disjoint.Sets, piece int) []int {
	var list []int
	for p := range r.Kit.Pieces {
		if groups.Find(p) == groups.Find(piece) {
			list = append(list, p)
		}
	}
	return list
}

// keptBy is a piece that stays and keeps a group from leaving: -1 if the group
// leaves in some direction, or by the legs of its only piece. Of several it is
// one in the direction with the fewest, preferably not the seat, which blocks
// most sides.
func (r *explainer) keptBy(moving, stays []int, seat int) int {
	g := r.Geometry
	if !slices.ContainsFunc(moving, func(p int) bool { return g.Measured[p] }) {
		return -1
	}
	if len(moving) == 1 {
		for _, way := range g.Legs[moving[0]] {
			if !slices.ContainsFunc(way.InTheWay, func(o int32) bool { return slices.Contains(stays, int(o)) }) {
				return -1
			}
		}
	}
	fewest, by := 2*len(r.Kit.Pieces)+1, -1
	for d := range g.Directions {
		n, one := 0, -1
		for _, p := range moving {
			for _, o := range g.InTheWay[d][p] {
				if slices.Contains(stays, int(o)) && !g.PastUndercut(p, int(o), d) {
					if n++; one < 0 || one == seat {
						one = int(o)
					}
					if int(o) == seat {
						n += len(r.Kit.Pieces)
					}
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
