package rehearse

import (
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// brute does what a builder could do, by the definitions, and tries everything that can be
// undone on the way, in every order. A state is the set of steps done and, of those, the
// set undone at the moment. It shares no code with the replay.
type brute struct {
	k     *kits.Kit
	g     *plan.Geometry
	steps []plan.Step
	asks  *kits.Service // while an item is asked for
}

type set uint32

func (s set) has(v int) bool    { return s>>v&1 == 1 }
func (s set) with(v int) set    { return s | 1<<v }
func (s set) without(v int) set { return s &^ (1 << v) }

// follow is the number of steps of an order that can be done.
func (b *brute) follow(order []int) int {
	var done set
	for i, v := range order {
		if done.has(v) || !b.asked(v, done) || !b.seated(v, done) || !b.goes(v, done, done) {
			return i
		}
		done = done.with(v)
	}
	return len(order)
}

// reaches reports whether pieces hang together by joins of a set.
func (b *brute) reaches(on set, from, to int) bool {
	seen := map[int]bool{from: true}
	for grown := true; grown; {
		grown = false
		for v, s := range b.steps {
			if s.Join == nil || !on.has(v) {
				continue
			}
			for _, e := range edges(s.Join) {
				if seen[e[0]] != seen[e[1]] {
					seen[e[0]], seen[e[1]], grown = true, true, true
				}
			}
		}
	}
	return seen[to]
}

func edges(j *kits.Join) (list [][2]int) {
	if j.IsClose() {
		return [][2]int{{j.Pieces[1], j.Pieces[0]}}
	}
	for _, p := range j.Pieces {
		list = append(list, [2]int{p, j.Onto[0]})
	}
	return list
}

func (b *brute) allOne(on set, list []int) bool {
	for _, p := range list {
		if !b.reaches(on, list[0], p) {
			return false
		}
	}
	return true
}

// asked: all that must be earlier, by after, before and coats, is done.
func (b *brute) asked(v int, done set) bool {
	names := func(list []kits.Target, s plan.Step) bool {
		return slices.ContainsFunc(list, func(t kits.Target) bool {
			return s.Join != nil && slices.Contains(t.Joins, s.Join) || s.Wire != nil && t.Wire == s.Wire || s.Task != nil && t.Task == s.Task
		})
	}
	said := func(s plan.Step) kits.Order {
		switch {
		case s.Join != nil:
			return s.Join.Order
		case s.Wire != nil:
			return s.Wire.Order
		}
		return s.Task.Order
	}
	for u, s := range b.steps {
		earlier := names(said(b.steps[v]).After, s) || names(said(s).Before, b.steps[v]) || b.coated(u, v) || b.coats(u, v)
		if earlier && !done.has(u) {
			return false
		}
	}
	return true
}

// coated: v is a coat, and u puts on what it covers.
func (b *brute) coated(u, v int) bool {
	if t, j := b.steps[v].Task, b.steps[u].Join; t != nil && t.Coat && j != nil {
		for _, p := range j.Pieces {
			if b.k.Pieces[p].Part.Paint == "outside" && (!j.IsClose() || b.k.Fitted(p) == nil) {
				return true
			}
		}
	}
	return false
}

// coats: u is a coat, and v fits what is painted off the model.
func (b *brute) coats(u, v int) bool {
	t, j := b.steps[u].Task, b.steps[v].Join
	return t != nil && t.Coat && j != nil && !j.IsClose() &&
		slices.ContainsFunc(j.Pieces, func(p int) bool { return b.k.Pieces[p].Part.Paint == "off-model" })
}

// seated: what the step works on is in place, and in one group.
func (b *brute) seated(v int, done set) bool {
	place := func(p int) bool {
		j := b.k.Fitted(p)
		if j == nil || j.Bench {
			return true
		}
		at := slices.IndexFunc(b.steps, func(s plan.Step) bool { return s.Join == j })
		return done.has(at)
	}
	all := func(list []int) bool { return !slices.ContainsFunc(list, func(p int) bool { return !place(p) }) }
	switch s := b.steps[v]; {
	case s.Wire != nil:
		run := append([]int{s.Wire.From, s.Wire.To}, s.Wire.Through...)
		return all(run) && b.allOne(done, run)
	case s.Join != nil && s.Join.IsClose():
		return all(s.Join.Pieces)
	case s.Join != nil:
		return all(s.Join.Onto) && b.allOne(done, s.Join.Onto)
	}
	return true
}

// goes: the step can be done as things are, or after something more was undone; all that
// is off is put back then.
func (b *brute) goes(v int, done, on set) bool {
	if b.passes(v, on) && b.back(done.with(v), on.with(v)) {
		return true
	}
	for u := range b.steps {
		if on.has(u) && b.comesOff(u, on) && b.goes(v, done, on.without(u)) {
			return true
		}
	}
	return false
}

// back: all that is off can be put back, in some order.
func (b *brute) back(done, on set) bool {
	if done == on {
		return true
	}
	for u := range b.steps {
		if done.has(u) && !on.has(u) && b.unit(u, on) && b.back(done, on.with(u)) {
			return true
		}
	}
	return false
}

// firm: what the join goes onto cannot part while it is made.
func firm(j *kits.Join) bool {
	return j != nil && !(j.Opens && (j.Fixing.ID == "loose" || j.Fixing.ID == "magnet"))
}

func (b *brute) comesOff(u int, on set) bool {
	j := b.steps[u].Join
	if j == nil || !j.Opens {
		return false
	}
	rest := on.without(u)
	for v, s := range b.steps {
		if rest.has(v) && (s.Wire != nil && !b.allOne(rest, s.Wire.Through) || firm(s.Join) && !b.allOne(rest, s.Join.Onto)) {
			return false
		}
	}
	return b.unit(u, rest)
}

// passes: the pieces or the wire of a step get into their spaces and past what stands.
func (b *brute) passes(v int, on set) bool {
	s := b.steps[v]
	if s.Wire != nil {
		return b.threads(s.Wire, on) && b.allOne(on, s.Wire.Through)
	}
	if s.Join == nil {
		return true
	}
	if !s.Join.IsClose() {
		if firm(s.Join) && !b.allOne(on, s.Join.Onto) {
			return false
		}
		for _, p := range s.Join.Pieces {
			if !b.enters(p, s.Join.Onto[0], on) {
				return false
			}
		}
	}
	return b.travels(s.Join, on)
}

// unit: what a join fixes passes between its seat and the outside with all that is on it.
func (b *brute) unit(u int, on set) bool {
	j := b.steps[u].Join
	side := func(p, base int) bool {
		for q := range b.k.Pieces {
			if b.reaches(on, p, q) && !b.enters(q, base, on) {
				return false
			}
		}
		return true
	}
	if j.IsClose() {
		return (side(j.Pieces[1], j.Pieces[0]) || side(j.Pieces[0], j.Pieces[1])) && b.travels(j, on)
	}
	return !slices.ContainsFunc(j.Pieces, func(p int) bool { return !side(p, j.Onto[0]) }) && b.travels(j, on)
}

// levels lists the spaces that are entered on the way into some.
func (b *brute) levels(in func(s *kits.Space) bool) (list []*kits.Space) {
	for _, s := range b.k.Spaces {
		if in(s) {
			for at := s; at != nil; at = at.Inside {
				list = append(list, at)
			}
		}
	}
	return list
}

func holds(s *kits.Space, p int) bool {
	return slices.ContainsFunc(s.Holds, func(h kits.Held) bool { return h.Piece == p })
}

func (b *brute) sizeOf(p int) *kits.Size {
	size := b.k.Pieces[p].Part.Size
	if b.g != nil && size == nil {
		size = &kits.Size{XYZ: b.g.Sizes[p]}
	}
	if j := b.k.Fitted(p); j != nil && j.Size != nil {
		size = j.Size
	}
	return size
}

func (b *brute) enters(p, base int, on set) bool {
	size := b.sizeOf(p)
	for _, s := range b.levels(func(s *kits.Space) bool { return holds(s, p) }) {
		if !b.open(s, size, []int{base}, on) {
			return false
		}
	}
	return true
}

func (b *brute) open(s *kits.Space, size *kits.Size, seats []int, on set) bool {
	return slices.ContainsFunc(s.ClosedBy, func(c kits.Closer) bool {
		if c.Opening != nil && size != nil && !goesThrough(size.XYZ, c.Opening.W, c.Opening.H) {
			return false
		}
		return c.Piece < 0 || !slices.ContainsFunc(seats, func(p int) bool { return b.reaches(on, p, c.Piece) })
	})
}

// goesThrough is the criterion of rectangles in rectangles: Carver, 1957, as given by
// J. E. Wetzel, "Rectangles in Rectangles", Mathematics Magazine 73 (2000) 204-211.
func goesThrough(size geom.Vec, w, h float64) bool {
	s := slices.Sorted(slices.Values(size[:]))
	p, q, a, b := s[1], s[0], max(w, h), min(w, h)
	if p <= a {
		return q <= b
	}
	return q <= b && b >= (2*p*q*a+(p*p-q*q)*math.Sqrt(p*p+q*q-a*a))/(p*p+q*q)-1e-9
}

func (b *brute) threads(w *kits.Wire, on set) bool {
	run := append([]int{w.From, w.To}, w.Through...)
	runs := func(s *kits.Space) bool {
		return slices.Contains(w.RunsIn, s) || slices.ContainsFunc(run, func(p int) bool { return holds(s, p) })
	}
	for _, s := range b.levels(runs) {
		var inside, beside []int
		for _, p := range run {
			if slices.Contains(b.levels(func(s *kits.Space) bool { return holds(s, p) }), s) {
				inside = append(inside, p)
			}
			if !slices.ContainsFunc(s.ClosedBy, func(c kits.Closer) bool { return c.Piece == p }) {
				beside = append(beside, p)
			}
		}
		if len(inside) == 0 {
			inside = beside
		}
		if len(inside) == 0 {
			inside = run
		}
		if !b.open(s, &kits.Size{XYZ: geom.Vec{*w.Across, *w.Across, *w.Across}}, inside, on) {
			return false
		}
	}
	return true
}

// travels: what a join moves goes in, its copies in some order.
func (b *brute) travels(j *kits.Join, on set) bool {
	if b.g == nil {
		return true
	}
	if j.IsClose() {
		return b.straight(j, j.Pieces[1], on, func(o int) bool { return b.reaches(on, j.Pieces[0], o) })
	}
	if len(j.Pieces) == 1 {
		return b.copies(j, j.Pieces, on)
	}
	return b.copies(j, j.Pieces, on) || b.copies(j, []int{j.Pieces[1], j.Pieces[0]}, on)
}

func (b *brute) copies(j *kits.Join, order []int, on set) bool {
	for i, p := range order {
		stands := func(o int) bool {
			return b.reaches(on, j.Onto[0], o) || slices.ContainsFunc(order[:i], func(c int) bool { return b.reaches(on, c, o) })
		}
		if !b.straight(j, p, on, stands) {
			return false
		}
	}
	return true
}

// straight: in some direction that the join allows no moving piece meets one that stands,
// or a piece that moves alone has a way of legs.
func (b *brute) straight(j *kits.Join, p int, on set, stands func(int) bool) bool {
	var unit []int
	for q := range b.k.Pieces {
		if b.reaches(on, p, q) {
			unit = append(unit, q)
		}
	}
	allowed := func(out geom.Vec) bool {
		if j.Toward == nil {
			return true
		}
		along := out.Dot(*j.Toward)
		return along == -1 || j.IsClose() && along == 1
	}
	for d, out := range b.g.Directions {
		if allowed(out) && !slices.ContainsFunc(unit, func(q int) bool { return b.meets(q, d, stands) }) {
			return true
		}
	}
	return len(unit) == 1 && slices.ContainsFunc(b.g.Legs[p], func(l plan.Legs) bool {
		return (j.Toward == nil || l.Legs[0].Toward.Dot(*j.Toward) == -1) &&
			!slices.ContainsFunc(l.InTheWay, func(o int32) bool { return stands(int(o)) })
	})
}

func (b *brute) meets(q, d int, stands func(int) bool) bool {
	for _, o := range b.g.InTheWay[d][q] {
		past := slices.ContainsFunc(b.g.Undercuts[q], func(u plan.Undercut) bool { return u.Direction == d && slices.Contains(u.Past, o) })
		if stands(int(o)) && !past {
			return true
		}
	}
	return false
}
