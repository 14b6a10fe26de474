package plan

import (
	"cmp"
	"dryfit/kits/geom"
	"slices"
)

// Travel is a piece, with what is on it by then, that must get to its seat past the
// pieces that have been measured, along one of several routes.
type Travel struct {
	Step   int
	Piece  int
	Said   bool // the kit says the direction
	Routes []Route
	// Barred are directions in which it can never travel: what it is fitted to, or
	// goes in with, is in the way itself.
	Barred []Barred
}

// Route is one way in. All that hinders it must still be off when it is taken.
type Route struct {
	Legs       []geom.Leg // as it travels into its seat; of one leg, the way straight in
	Hindrances []Hindrance
	Undercut   float64 // mm: it goes past undercuts so wide; 0 if past none
	leaving    int     // direction of leaving; -1 for a way of several legs
}

// Toward is the direction in which the piece comes into its seat, of length 1.
func (t *Route) Toward() geom.Vec { return t.Legs[len(t.Legs)-1].Toward }

// Hindrance is a piece in the way of one that travels. It is there once the joins
// of Shut are all done.
type Hindrance struct {
	Mover, Other int
	Shut         []int32
	reopens      bool // one of Shut can be undone again
}

// Barred is a direction that something always bars.
type Barred struct {
	Toward       geom.Vec
	Mover, Other int
	leaving      int
}

// travels derives the travels of all joins whose pieces have been measured.
func (r *Constraints) travels() {
	g := r.Geometry
	if g == nil || len(g.Directions) == 0 {
		return
	}
	bridged := r.bridged()
	for i, s := range r.Steps {
		if s.Join == nil {
			continue
		}
		movers := s.Join.Pieces
		if s.Kind == Close {
			movers = movers[1:]
		}
		for _, p := range movers {
			if r.tooLarge() {
				return
			}
			if t := r.travel(i, p, bridged); t != nil {
				r.Travels = append(r.Travels, *t)
			}
		}
	}
}

// sides are the pieces on the two sides of a join: those that travel with a piece,
// and those it travels past, each with the next on its way to the join.
type sides struct {
	moving, still map[int32]int32 // piece -> the next towards the join, itself at the join
	movers        []int32
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
	if j := r.Steps[step].Join; j.IsClose() || r.change.isBench(j) {
		s.movers = s.movers[:0]
		for p := range list {
			s.movers = append(s.movers, p)
		}
		slices.Sort(s.movers)
	}
	return s, true
}

// side lists the pieces that hang together with one once its join to another is cut.
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
func (r *Constraints) travel(step, piece int, bridged []bool) *Travel {
	g := r.Geometry
	s, joined := r.sidesOf(step, piece)
	if !joined || !slices.ContainsFunc(s.movers, func(p int32) bool { return g.Measured[p] }) {
		return nil
	}
	r.conditions += len(s.moving) + len(s.still)
	j := r.Steps[step].Join
	t := &Travel{Step: step, Piece: piece}
	said := r.change.towardOf(j)
	t.Said = said != nil
	for _, d := range g.leaving(said, j.IsClose()) {
		route, barred := r.straight(step, d, s, bridged)
		if barred != nil {
			t.Barred = append(t.Barred, *barred)
			continue
		}
		if len(route.Hindrances) == 0 && route.Undercut == 0 {
			t.Routes = []Route{route}
			return t
		}
		t.Routes = append(t.Routes, route)
	}
	// A way past an undercut is the last resort.
	slices.SortStableFunc(t.Routes, func(a, b Route) int {
		return cmp.Or(cmp.Compare(a.Undercut, b.Undercut), len(a.Hindrances)-len(b.Hindrances))
	})
	for _, l := range g.Legs[piece] {
		if len(s.movers) > 1 {
			break // the way was found for the piece alone
		}
		if route, ok := r.legs(step, piece, l, s, bridged); ok && (said == nil || route.Toward().SameDirection(*said)) {
			t.Routes = append(t.Routes, route)
		}
	}
	return t
}

// leaving lists the directions in which a piece may leave: against the one in which
// it is said to travel, or all. Two groups that close on each other may travel
// either way.
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

// straight is the route straight in against a direction of leaving, or what bars it.
func (r *Constraints) straight(step, leaving int, s sides, bridged []bool) (Route, *Barred) {
	g := r.Geometry
	in := g.Directions[leaving].Unit().Opposite()
	route := Route{Legs: []geom.Leg{{Toward: in}}, leaving: leaving}
	found := map[[2]int32]bool{}
	for _, q := range s.movers {
		for _, o := range g.InTheWay[leaving][q] {
			if _, still := s.still[o]; !still {
				continue
			}
			if w := g.undercut(int(q), o, leaving); w > 0 {
				route.Undercut = max(route.Undercut, w)
				continue
			}
			h, same := r.hindrance(step, q, o, bridged)
			if same {
				continue // copies fitted in one step go in one after the other
			}
			if len(h.Shut) == 0 {
				return route, &Barred{in, int(q), int(o), leaving}
			}
			found[[2]int32{q, o}] = true
			route.Hindrances = append(route.Hindrances, h)
		}
	}
	route.Hindrances = s.least(route.Hindrances, found)
	for _, h := range route.Hindrances {
		r.conditions += len(h.Shut)
	}
	return route, nil
}

// least drops the hindrances that follow from others: the piece in the way is there
// whenever another one is that is in the way too.
func (s sides) least(list []Hindrance, found map[[2]int32]bool) []Hindrance {
	return slices.DeleteFunc(list, func(h Hindrance) bool {
		for q := int32(h.Mover); ; q = s.moving[q] {
			for o := int32(h.Other); ; o = s.still[o] {
				if found[[2]int32{q, o}] && (int(q) != h.Mover || int(o) != h.Other) {
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

// hindrance is a piece in the way of a mover in a step; same reports that both are
// copies which the step fits.
func (r *Constraints) hindrance(step int, mover, other int32, bridged []bool) (h Hindrance, same bool) {
	h = Hindrance{Mover: int(mover), Other: int(other)}
	for _, v := range r.tree.walk(int(mover), int(other)) {
		if int(v) == step {
			continue
		}
		h.Shut = append(h.Shut, v)
		h.reopens = h.reopens || r.change.isOpen(r.Steps[v].Join) && !bridged[v]
	}
	j := r.Steps[step].Join
	return h, len(h.Shut) == 0 && !j.IsClose() && slices.Contains(j.Pieces, int(mover)) && slices.Contains(j.Pieces, int(other))
}

// legs is a route of several legs, if nothing bars it.
func (r *Constraints) legs(step, piece int, l Legs, s sides, bridged []bool) (Route, bool) {
	route := Route{Legs: geom.Reverse(l.Legs), leaving: -1}
	found := map[[2]int32]bool{}
	for _, o := range l.InTheWay {
		if _, still := s.still[o]; !still {
			continue
		}
		h, same := r.hindrance(step, int32(piece), o, bridged)
		if same {
			continue
		}
		if len(h.Shut) == 0 {
			return route, false
		}
		found[[2]int32{int32(piece), o}] = true
		route.Hindrances = append(route.Hindrances, h)
	}
	route.Hindrances = s.least(route.Hindrances, found)
	return route, true
}

// Route is the route that a travel takes in the orders of the solution; nil if it
// has none.
func (r *Constraints) Route(t int) *Route {
	if r.routes == nil || r.routes[t] < 0 {
		return nil
	}
	return &r.Travels[t].Routes[r.routes[t]]
}

// TravelsOf lists the travels of a step.
func (r *Constraints) TravelsOf(step int) []int {
	var list []int
	for i := range r.Travels {
		if r.Travels[i].Step == step {
			list = append(list, i)
		}
	}
	return list
}

// Stall is a piece that no straight way to its seat is left to, and the pieces that
// are there when its turn comes at the latest.
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
	for i := range r.Travels {
		t := &r.Travels[i]
		if len(t.Routes) > 0 && !caught[t.Step] || r.unseen(t) && len(t.Routes) == 0 {
			continue
		}
		if s, joined := r.sidesOf(t.Step, t.Piece); joined && len(s.movers) == 1 {
			j := r.Steps[t.Step].Join
			list = append(list, Stall{t.Piece, r.present(t, s, stuck), r.Geometry.leaving(r.change.towardOf(j), j.IsClose())})
		}
	}
	return list
}

// present lists the pieces on the still side that are tied to a travel's seat by
// joins which cannot come after it: those that are stuck with it or that it needs.
func (r *Constraints) present(t *Travel, s sides, stuck map[int]bool) []int {
	before := r.neededBy(t.Step)
	var list []int
	for o := range s.still {
		if !r.Geometry.Measured[o] {
			continue
		}
		there := true
		for _, v := range r.tree.walk(t.Piece, int(o)) {
			there = there && (int(v) == t.Step || stuck[int(v)] || before[int(v)])
		}
		if there {
			list = append(list, int(o))
		}
	}
	slices.Sort(list)
	return list
}

// neededBy marks the steps that must come before one.
func (r *Constraints) neededBy(step int) map[int]bool {
	needs := map[int][]int{}
	for _, n := range r.Needs {
		needs[n.After] = append(needs[n.After], n.Before)
	}
	seen := map[int]bool{}
	queue := []int{step}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, b := range needs[v] {
			if !seen[b] {
				seen[b] = true
				queue = append(queue, b)
			}
		}
	}
	return seen
}

// Toward is the direction in which the pieces of a step travel to their seats, of
// length 1: that of the route they take or, if nothing was measured, the one the kit
// says. It is nil if neither is known.
func (r *Constraints) Toward(step int) *[3]float64 {
	for _, i := range r.TravelsOf(step) {
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
