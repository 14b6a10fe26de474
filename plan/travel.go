package plan

import (
	"cmp"
	"maps"
	"slices"

	"dryfit/kits/geom"
)

// pastMesh derives the accesses of all measured pieces: the pieces of a join,
// with what is on them by then.
func (r *Constraints) pastMesh() {
	g := r.Geometry
	if g == nil || len(g.Directions) == 0 {
		return
	}
	bridged := r.bridged()
	for i, s := range r.Steps {
		for _, p := range s.Movers() {
			if r.tooLarge() {
				return
			}
			if a := r.travel(i, p, bridged); a != nil {
				r.addAccess(*a)
			}
		}
	}
}

// sides are the pieces on the two sides of a join: those that travel with a
// piece, and those it travels past, each with the next piece towards the join.
type sides struct {
	moving, still map[int32]int32 // piece -> the next towards the join, itself at the join
	movers        []int32
	copies        map[int32]bool // what goes in with other copies of the step, one after the other
}

func (r *Constraints) sidesOf(step, piece int) (sides, bool) {
	var s sides
	onto := -1
	for _, e := range r.tree.next[piece] {
		if int(e.step) == step {
			onto = int(e.b)
		}
	}
	if onto < 0 {
		return s, false
	}
	list := r.side(piece, onto)
	s.moving = list
	s.still = r.side(onto, piece)
	s.movers = []int32{int32(piece)}
	if j := r.Steps[step].Join; j.IsClose() || r.Change.IsBench(j) {
		s.movers = slices.Sorted(maps.Keys(list))
	}
	s.copies = map[int32]bool{}
	for _, p := range r.Steps[step].Fits() {
		if p != piece {
			for q := range r.side(p, onto) {
				s.copies[q] = true
			}
		}
	}
	return s, true
}

// side lists the pieces still connected to one when its join to another is cut.
func (r *Constraints) side(piece, without int) map[int32]int32 {
	next := map[int32]int32{int32(piece): int32(piece)}
	queue := []int32{int32(piece)}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, e := range r.tree.next[p] {
			if int(p) == piece && int(e.b) == without {
				continue
			}
			if _, seen := next[e.b]; !seen {
				next[e.b] = p
				queue = append(queue, e.b)
			}
		}
	}
	return next
}

// travel finds the routes of one piece; nil if nothing that travels has been measured.
func (r *Constraints) travel(step, piece int, bridged []bool) *Access {
	g := r.Geometry
	s, joined := r.sidesOf(step, piece)
	if !joined || !slices.ContainsFunc(s.movers, func(p int32) bool { return g.Measured[p] }) {
		return nil
	}
	r.Conditions += len(s.moving) + len(s.still)
	j := r.Steps[step].Join
	a := &Access{Step: step, Piece: piece}
	said := r.Change.TowardOf(j)
	a.Said = said != nil
	for _, d := range g.leaving(said, j.IsClose()) {
		route, barred := r.straight(step, d, s, bridged)
		if barred != nil {
			a.Barred = append(a.Barred, *barred)
			continue
		}
		if len(route.Blockers) == 0 && route.Undercut == 0 {
			a.Routes = []Route{route}
			return a
		}
		a.Routes = append(a.Routes, route)
	}
	// A way past an undercut is the last resort.
	slices.SortStableFunc(a.Routes, func(x, y Route) int {
		return cmp.Or(cmp.Compare(x.Undercut, y.Undercut), len(x.Blockers)-len(y.Blockers))
	})
	for _, l := range g.Legs[piece] {
		if route, ok := r.legs(step, piece, l, s, bridged); ok && (said == nil || route.Toward().SameDirection(*said)) {
			a.Routes = append(a.Routes, route)
		}
	}
	return a
}

// leaving lists the directions in which a piece may leave: the opposite of the
// stated direction of travel, or all. Two groups that close on each other may
// travel either way.
func (g *Geometry) leaving(said *[3]float64, either bool) []int {
	var list []int
	if said == nil {
		for d := range g.Directions {
			list = append(list, d)
		}
		return list
	}
	in := geom.Vec(*said)
	if d := g.direction(in.Opposite()); d >= 0 {
		list = append(list, d)
	}
	if d := g.direction(in); either && d >= 0 {
		list = append(list, d)
	}
	return list
}

// straight is the straight route in, opposite to a direction of leaving, or what
// bars it.
func (r *Constraints) straight(step, leaving int, s sides, bridged []bool) (Route, *Barred) {
	g := r.Geometry
	in := g.Directions[leaving].Unit().Opposite()
	route := Route{Pass: Straight, Legs: []geom.Leg{{Toward: in}}, Leaving: leaving}
	found := map[[2]int32]bool{}
	for _, q := range s.movers {
		for _, o := range g.InTheWay[leaving][q] {
			if _, still := s.still[o]; !still || s.copies[o] {
				continue
			}
			if w := g.undercut(int(q), o, leaving); w > 0 {
				route.Undercut = max(route.Undercut, w)
				continue
			}
			b := r.blocker(step, q, o, bridged)
			if len(b.Joins) == 0 {
				return route, &Barred{in, int(q), int(o), leaving}
			}
			found[[2]int32{q, o}] = true
			route.Blockers = append(route.Blockers, b)
		}
	}
	route.Blockers = s.least(route.Blockers, found)
	for _, b := range route.Blockers {
		r.Conditions += len(b.Joins)
	}
	return route, nil
}

// least drops redundant blockers: those in place whenever another blocker is.
func (s sides) least(list []Blocker, found map[[2]int32]bool) []Blocker {
	return slices.DeleteFunc(list, func(b Blocker) bool {
		for q := int32(b.Mover); ; q = s.moving[q] {
			for o := int32(b.Piece); ; o = s.still[o] {
				if found[[2]int32{q, o}] && (int(q) != b.Mover || int(o) != b.Piece) {
					return true
				}
				if s.still[o] == o {
					break
				}
			}
			if s.moving[q] == q {
				return false
			}
		}
	})
}

// blocker is a piece in the way of a mover in a step.
func (r *Constraints) blocker(step int, mover, other int32, bridged []bool) Blocker {
	b := Blocker{Mover: int(mover), Piece: int(other)}
	for _, v := range r.tree.walk(int(mover), int(other)) {
		if int(v) == step {
			continue
		}
		b.Joins = append(b.Joins, v)
		if !r.Change.IsOpen(r.Steps[v].Join) {
			continue
		}
		b.opens = true
		if !bridged[v] {
			b.Reopens = append(b.Reopens, v)
		}
	}
	return b
}

// legs is a route of several legs, if nothing bars it. It was found for the piece alone, so
// what may be on the piece by then blocks it too.
func (r *Constraints) legs(step, piece int, l Legs, s sides, bridged []bool) (Route, bool) {
	route := Route{Pass: Straight, Legs: geom.Reverse(l.Legs), Leaving: -1}
	found := map[[2]int32]bool{}
	var on []Blocker
	if len(s.movers) > 1 {
		for _, e := range r.tree.next[piece] {
			if int(e.step) != step {
				on = append(on, r.blocker(step, int32(piece), e.b, bridged))
			}
		}
	}
	for _, o := range l.InTheWay {
		if _, still := s.still[o]; !still || s.copies[o] {
			continue
		}
		b := r.blocker(step, int32(piece), o, bridged)
		if len(b.Joins) == 0 {
			return route, false
		}
		found[[2]int32{int32(piece), o}] = true
		route.Blockers = append(route.Blockers, b)
	}
	route.Blockers = append(s.least(route.Blockers, found), on...)
	return route, true
}

// Stall is a piece with no straight way left to its seat, and the pieces that are
// there by the time its turn comes.
type Stall struct {
	Piece  int
	Others []int
	// Directions of leaving that the kit allows.
	Directions []int
}

// Stalled lists the pieces for which a way of several legs could help.
func (rep *Project) Stalled() []Stall {
	r := rep.Constraints
	if r.Geometry == nil {
		return nil
	}
	stuck, caught := map[int]bool{}, map[int]bool{}
	for _, v := range rep.Solution.Stuck {
		stuck[v] = true
	}
	for _, root := range rep.Solution.System.Roots() {
		for _, v := range root.Trapped {
			caught[v] = true
		}
	}
	var list []Stall
	for i := range r.Access {
		a := &r.Access[i]
		if a.Learned || a.Space != nil || len(a.Routes) > 0 && !caught[a.Step] || a.Unseen() {
			continue
		}
		if s, joined := r.sidesOf(a.Step, a.Piece); joined && len(s.movers) == 1 {
			j := r.Steps[a.Step].Join
			list = append(list, Stall{a.Piece, r.present(a, s, stuck), r.Geometry.leaving(r.Change.TowardOf(j), j.IsClose())})
		}
	}
	return append(list, rep.stalledService()...)
}

// stalledService lists the service items that are not reached, and the pieces that open and
// do not come off before them, where a single piece would have to leave.
func (rep *Project) stalledService() []Stall {
	r := rep.Constraints
	var list []Stall
	for _, s := range r.Kit.Service {
		j := r.Kit.Fitted(s.Reach)
		if j == nil || !slices.ContainsFunc(rep.Findings, func(f Finding) bool { return f.Kind == Serviceable && f.Pos == s.Pos }) {
			continue
		}
		item := r.StepOf(j)
		undone := r.TakenApart(item)
		for v, step := range r.Steps {
			if v == item || step.Join != nil && step.Kind == Fit && r.Change.IsOpen(step.Join) && !undone[v] {
				list = append(list, r.stallsOf(v, undone)...)
			}
		}
	}
	return list
}

// stallsOf lists the pieces of a step that would have to leave the finished model alone,
// with all that stays, once some joins are undone. What does not open is only got at, past
// what is fixed to it as well.
func (r *Constraints) stallsOf(step int, undone []bool) []Stall {
	m := r.opened(undone)
	if r.Change.IsOpen(r.Steps[step].Join) {
		m = r.opened(undone, step)
	}
	m.allGroups()
	seat := m.group(m.seat(step))
	var list []Stall
	for _, p := range r.Steps[step].Movers() {
		s := Stall{Piece: p, Directions: r.Geometry.leaving(nil, false)}
		alone := true
		for o := range r.Kit.Pieces {
			switch g := m.group(o); {
			case o == p:
			case g == seat:
				s.Others = append(s.Others, o)
			case g == m.group(p):
				alone = false
			}
		}
		if alone && r.Geometry.Measured[p] {
			list = append(list, s)
		}
	}
	return list
}

// present lists the pieces on the still side that are tied to a travel's seat by
// joins which cannot come after it: those stuck with it and those it needs.
func (r *Constraints) present(a *Access, s sides, stuck map[int]bool) []int {
	before := r.neededBy(a.Step)
	var list []int
	for o := range s.still {
		if !r.Geometry.Measured[o] {
			continue
		}
		there := true
		for _, v := range r.tree.walk(a.Piece, int(o)) {
			there = there && (int(v) == a.Step || stuck[int(v)] || before[int(v)])
		}
		if there {
			list = append(list, int(o))
		}
	}
	slices.Sort(list)
	return list
}

// neededBy marks the steps that must come before a step.
func (r *Constraints) neededBy(step int) map[int]bool {
	needs := make([][]int, len(r.Steps))
	for _, n := range r.Needs {
		needs[n.After] = append(needs[n.After], n.Before)
	}
	return reachableFrom(needs, step)
}

// Toward is the unit direction in which the pieces of a step travel to their
// seats: that of the route they take or, if nothing was measured, the one the kit
// states. It is nil if neither is known.
func (r *Constraints) Toward(step int) *[3]float64 {
	for _, i := range r.PastMeshes(step) {
		if route := r.Route(i); route != nil {
			d := [3]float64(route.Toward())
			return &d
		}
	}
	if j := r.Steps[step].Join; j != nil && j.Toward != nil {
		d := [3]float64(geom.Vec(*j.Toward).Unit())
		return &d
	}
	return nil
}
