package plan

import (
	"slices"

	"dryfit/kits"
)

// moment is the model at some moment of the build: the steps that are done and not undone
// just then, and the groups that their joins make.
type moment struct {
	*Constraints
	turning bool // pieces may be turned in an opening
	on      []bool
	changed []change // since then; on belongs to other moments too
	groups  []int32  // piece -> its group; nil until many are asked for
	through *Access  // the only access of its step that counts; nil for all
}

func (r *Constraints) moment(on []bool, turning bool) *moment {
	return &moment{Constraints: r, turning: turning, on: slices.Clone(on)}
}

// change is a step that is done, or undone.
type change struct {
	step int32
	on   bool
}

// stands reports whether a step is done and not undone.
func (m *moment) stands(step int32) bool {
	for _, c := range m.changed {
		if c.step == step {
			return c.on
		}
	}
	return m.on[step]
}

// group is the group of a piece, named after the one of its pieces that is nearest the root.
func (m *moment) group(p int) int32 {
	if m.groups != nil {
		return m.groups[p]
	}
	t, at := m.tree, int32(p)
	for m.asked++; t.parent[at] >= 0 && m.stands(t.step[at]); m.asked++ {
		at = t.parent[at]
	}
	return at
}

// allGroups finds the groups of all pieces, where many will be asked for.
func (m *moment) allGroups() {
	if m.groups != nil {
		return
	}
	t := m.tree
	m.asked += len(t.order)
	groups := make([]int32, len(t.order))
	for _, p := range t.order {
		if groups[p] = p; t.parent[p] >= 0 && m.stands(t.step[p]) {
			groups[p] = groups[t.parent[p]]
		}
	}
	m.groups = groups
}

// unit lists the pieces of a group.
func (m *moment) unit(group int32) []int32 {
	list := []int32{group}
	for n := 0; n < len(list); n++ {
		at := list[n]
		m.asked += len(m.tree.next[at])
		for _, e := range m.tree.next[at] {
			if m.tree.parent[e.b] == at && m.stands(e.step) {
				list = append(list, e.b)
			}
		}
	}
	return list
}

// maxChanged is how many steps a moment may be apart from the one that it was made of: it
// costs less to look through a few than to copy all.
const maxChanged = 4

// with is the moment with some steps done, or undone.
func (m *moment) with(on bool, steps ...int) *moment {
	now := &moment{Constraints: m.Constraints, turning: m.turning, on: m.on, through: m.through}
	if len(m.changed)+len(steps) > maxChanged {
		now.on = slices.Clone(m.on)
		for _, c := range slices.Backward(m.changed) {
			now.on[c.step] = c.on
		}
		for _, v := range steps {
			now.on[v] = on
		}
		return now
	}
	for _, v := range steps {
		now.changed = append(now.changed, change{int32(v), on})
	}
	now.changed = append(now.changed, m.changed...) // the last change of a step comes first
	return now
}

// admits reports whether what a step brings in gets to its place as things are.
func (m *moment) admits(step int) bool {
	if a := m.through; a != nil && a.Step == step {
		return a.Space != nil && m.entersAlone(a) || a.Space == nil && m.leaves(step, a.Piece, []int{a.Piece})
	}
	for _, i := range m.IntoSpaces(step) {
		if a := &m.Access[i]; !a.Unreachable() && !m.enters(a.Routes, m.seats(a)) {
			return false
		}
	}
	return m.travels(step)
}

// seats lists what a piece goes to, or what carries a wire inside a space.
func (m *moment) seats(a *Access) []int {
	if a.Wire != nil {
		return carriers(a.Wire, a.Space, m.Kit.Around)
	}
	return []int{m.seat(a.Step)}
}

// seat is the piece that stays still in a step.
func (m *moment) seat(step int) int {
	if s := m.Steps[step]; s.Kind == Fit {
		return m.base(s.Join)
	}
	return m.Steps[step].Base()
}

// enters reports whether one of the routes into a space is open: no seat is in one group
// with the piece that closes it.
func (m *moment) enters(routes []Route, seats []int) bool {
	return slices.ContainsFunc(routes, func(t Route) bool {
		return t.passable(Relaxation{Turning: m.turning}) &&
			(t.Closer.Piece < 0 || !slices.ContainsFunc(seats, func(p int) bool { return m.group(p) == m.group(t.Closer.Piece) }))
	})
}

// entersAlone reports whether a piece or a wire gets into a space with nothing on it.
func (m *moment) entersAlone(a *Access) bool {
	seats := m.seats(a)
	if a.Wire == nil {
		if slices.ContainsFunc(a.Routes, func(t Route) bool { return t.Closer.Piece == a.Piece }) {
			return true
		}
		seats = append(seats, a.Piece)
	}
	return m.enters(a.Routes, seats)
}

// comesBy reports whether what a join that is undone fixes passes between its seat and the
// outside, with all that is joined to it. Of two groups that close on each other either may
// be the one that leaves the spaces of the other.
func (m *moment) comesBy(step int) bool {
	s, seat := m.Steps[step], m.seat(step)
	clear := m.unitsPass(s.Movers(), seat)
	if !clear && s.Kind == Close {
		clear = m.unitsPass([]int{seat}, s.Movers()[0])
	}
	return clear && m.travels(step)
}

// unitsPass reports whether all that is joined to some pieces gets in and out of the spaces
// that it is in, past what is joined to a seat.
func (m *moment) unitsPass(pieces []int, seat int) bool {
	var seen []int32
	for _, p := range pieces {
		g := m.group(p)
		if slices.Contains(seen, g) {
			continue
		}
		seen = append(seen, g)
		for _, q := range m.unit(g) {
			for _, s := range m.Kit.Around(int(q)) {
				if !m.enters(m.openings(int(q), s), []int{seat}) {
					return false
				}
			}
		}
	}
	return true
}

// openings lists the routes of a piece into a space, without what is in the way.
func (m *moment) openings(piece int, s *kits.Space) []Route {
	size := m.SizeOf(piece)
	if j := m.Kit.Fitted(piece); j != nil && j.Size != nil {
		size = j.Size
	}
	var list []Route
	for _, c := range m.Change.closersOf(s) {
		list = append(list, Route{Closer: c, Pass: pass(size, m.Change.OpeningOf(c.Opening), m.Kit.Clearance)})
	}
	return list
}

// travels reports whether what a step moves gets to its seat past what stands. Copies of
// one step go in one after the other, so it is enough that they come out one by one.
func (m *moment) travels(step int) bool {
	g := m.Geometry
	if g == nil || len(g.Directions) == 0 || m.Steps[step].Join == nil {
		return true
	}
	left := slices.DeleteFunc(slices.Clone(m.Steps[step].Movers()), func(p int) bool { return m.unproven(step, p) })
	for len(left) > 0 {
		i := slices.IndexFunc(left, func(p int) bool { return m.leaves(step, p, left) })
		if i < 0 {
			return false
		}
		left = slices.Delete(left, i, i+1)
	}
	return true
}

// unproven reports whether the travel of a piece is not judged: no order opens any way,
// which is a fault of its own.
func (m *moment) unproven(step, piece int) bool {
	for _, i := range m.PastMeshes(step) {
		if a := &m.Access[i]; a.Piece == piece {
			return len(a.Routes) == 0
		}
	}
	return false
}

// leaves reports whether a piece, with all that is joined to it, leaves its seat past what
// is joined to that and to the other copies.
func (m *moment) leaves(step, piece int, copies []int) bool {
	m.allGroups()
	own, seat := m.groups[piece], m.groups[m.seat(step)]
	unit := m.unit(own)
	stands := func(o int32) bool {
		g := m.groups[o]
		return g == seat || g != own && slices.ContainsFunc(copies, func(c int) bool { return m.groups[c] == g })
	}
	j := m.Steps[step].Join
	said := m.Change.TowardOf(j)
	directions := m.Geometry.leaving(said, j.IsClose())
	if len(directions) == 0 {
		return true // nothing is known of a direction that was not looked along
	}
	if slices.ContainsFunc(directions, func(d int) bool { return m.Geometry.free(unit, d, stands) }) {
		return true
	}
	return len(unit) == 1 && slices.ContainsFunc(m.Geometry.Legs[piece], func(l Legs) bool {
		return (said == nil || l.Legs[0].Toward.Opposite().SameDirection(*said)) && !slices.ContainsFunc(l.InTheWay, stands)
	})
}

// free reports whether pieces leave along a direction with none of what stands in the way.
func (g *Geometry) free(unit []int32, direction int, stands func(int32) bool) bool {
	for _, q := range unit {
		for _, o := range g.InTheWay[direction][q] {
			if stands(o) && g.undercut(int(q), o, direction) == 0 {
				return false
			}
		}
	}
	return true
}
