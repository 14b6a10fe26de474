package rehearse

import (
	"slices"

	"dryfit/kits/geom"
	"dryfit/plan"
)

// reaches says what keeps the pieces of a step, or its wire, from their place.
func (m *model) reaches(step int) *Failure {
	s := m.steps[step]
	if s.Wire != nil {
		return m.threaded(s.Wire)
	}
	for _, p := range s.Fits() {
		if f := m.intoSpaces(p, m.sizeOf(p), s.Base()); f != nil {
			return f
		}
	}
	if s.Join == nil {
		return nil
	}
	return m.travel(step)
}

// travel says what is in the way of what a join moves: each of its pieces with all that is
// joined to it at the moment, past all that is joined to the base. Copies go in one after
// the other, so it is enough that they can come out one after the other.
func (m *model) travel(step int) *Failure {
	if m.geometry == nil || len(m.geometry.Directions) == 0 {
		return nil
	}
	s := m.steps[step]
	left := slices.Clone(s.Movers())
	for len(left) > 0 {
		var first *Failure
		out := slices.IndexFunc(left, func(p int) bool {
			f := m.leave(step, p, m.standing(s.Base(), left, p))
			if first == nil {
				first = f
			}
			return f == nil
		})
		if out < 0 {
			return first
		}
		left = slices.Delete(left, out, out+1)
	}
	return nil
}

// standing marks what stands while a piece travels: all that is joined to the base and
// to the other copies.
func (m *model) standing(base int, copies []int, piece int) []bool {
	mark := make([]bool, len(m.fits))
	for q := range mark {
		g := m.groups.Find(q)
		mark[q] = g == m.groups.Find(base) || g != m.groups.Find(piece) && slices.ContainsFunc(copies, func(c int) bool { return m.groups.Find(c) == g })
	}
	return mark
}

// leave says what is in the way of a piece and all that is joined to it when it leaves its
// seat. Of all directions it looks at the one with the fewest in the way, and at one that
// the seat itself bars only if it bars all.
func (m *model) leave(step, piece int, stands []bool) *Failure {
	g := m.geometry
	unit := m.unit(piece)
	if !slices.ContainsFunc(unit, func(p int) bool { return g.Measured[p] }) {
		return nil
	}
	var fewest []int
	directions, known := m.leaving(step)
	if !known {
		return nil
	}
	for i, d := range directions {
		way := m.inTheWay(unit, d, stands)
		if len(way) == 0 {
			return nil
		}
		if i == 0 || m.barred(step, way) < m.barred(step, fewest) {
			fewest = way
		}
	}
	if len(unit) == 1 && m.byLegs(step, piece, stands) {
		return nil
	}
	f := &Failure{Action: Action{Step: step}, Kind: Blocked, Piece: piece, Pieces: fewest}
	if len(unit) == 1 {
		for o, is := range stands {
			if is {
				f.alone = append(f.alone, o)
			}
		}
	}
	return f
}

// barred ranks what is in the way of a step: by how many they are, and after all others
// where the seat is among them.
func (m *model) barred(step int, way []int) int {
	if slices.Contains(way, m.steps[step].Base()) {
		return len(m.fits) + len(way)
	}
	return len(way)
}

// leaving lists the directions in which what a join moves may leave. Two groups that close
// on each other may travel either way. Nothing is known of a direction that was not
// looked along.
func (m *model) leaving(step int) (list []int, known bool) {
	g, j := m.geometry, m.steps[step].Join
	for d, v := range g.Directions {
		if j.Toward == nil || v.SameDirection(geom.Vec(*j.Toward).Opposite()) || j.IsClose() && v.SameDirection(*j.Toward) {
			list = append(list, d)
		}
	}
	return list, len(list) > 0
}

// inTheWay lists the pieces that stand in the way of a unit along a direction.
func (m *model) inTheWay(unit []int, direction int, stands []bool) []int {
	var list []int
	for _, q := range unit {
		for _, o := range m.geometry.InTheWay[direction][q] {
			if stands[o] && !m.snaps(q, o, direction) && !slices.Contains(list, int(o)) {
				list = append(list, int(o))
			}
		}
	}
	return list
}

// snaps reports whether a piece leaves another past an undercut: a thread or a snap.
func (m *model) snaps(piece int, other int32, direction int) bool {
	return slices.ContainsFunc(m.geometry.Undercuts[piece], func(u plan.Undercut) bool {
		return u.Direction == direction && slices.Contains(u.Past, other)
	})
}

// byLegs reports whether one of the ways of several legs is free. Its first leg out is
// the last one in, which is the direction that the kit can state.
func (m *model) byLegs(step, piece int, stands []bool) bool {
	said := m.steps[step].Join.Toward
	return slices.ContainsFunc(m.geometry.Legs[piece], func(l plan.Legs) bool {
		if said != nil && !l.Legs[0].Toward.Opposite().SameDirection(*said) {
			return false
		}
		return !slices.ContainsFunc(l.InTheWay, func(o int32) bool { return stands[o] })
	})
}
