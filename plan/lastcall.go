package plan

import (
	"slices"
	"sort"

	"dryfit/kits"
	"dryfit/kits/progress"
)

// lastCalls finds for each step what is out of reach for good once it is done:
// the pieces and wires whose last way in it shuts for good, the paint they need
// before that, and the tasks that the kit puts before it. A way shut by a join
// that opens is shut for good once the join can no longer be undone and made again
// around what goes in. Turning is not relied on.
func (q *Sequence) lastCalls() {
	r := q.Solution.Constraints
	q.calls = map[int][]Call{}
	r.asked = 0
	standing := q.standing()
	for i := range r.Access {
		a := r.Access[i].ShutIn()
		v := q.shut(&a, true)
		if a.opens() {
			v = q.lostAgain(&a, standing)
		}
		switch {
		case v < 0 || a.Learned:
		case a.Wire != nil:
			q.call(v, Call{What: progress.TickThread, Piece: -1, Wire: a.Wire.ID, Space: a.Space.ID})
		case a.Space != nil:
			q.callFor(v, &a, a.Space.ID)
		case !q.called(progress.TickFit, a.Piece):
			// Accesses into spaces come first, and say more.
			q.callFor(v, &a, "")
		}
	}
	q.wallCalls()
	q.taskCalls()
	for _, calls := range q.calls {
		slices.SortStableFunc(calls, func(a, b Call) int { return callRank[a.What] - callRank[b.What] })
	}
}

// callFor adds the calls for a piece that a step shuts in for good: that it is in by then,
// unless it goes in with that later on, and painted.
func (q *Sequence) callFor(v int, a *Access, space string) {
	if q.Place[v] > q.Place[a.Step] {
		q.call(v, Call{What: progress.TickFit, Piece: a.Piece, Space: space})
	}
	if r := q.Solution.Constraints; r.Steps[a.Step].Kind == Fit && paintedIn(r.Kit.Pieces[a.Piece].Part) {
		q.call(v, Call{What: progress.TickPaint, Piece: a.Piece, Space: space})
	}
}

// paintedIn reports whether a part must be painted before it is out of reach. What a closing
// moves is a wall of what it closes; see wallCalls.
func paintedIn(p *kits.Part) bool {
	return p.Paint == kits.PaintBeforeClose || p.Paint == kits.PaintBeforeFit
}

// called reports whether a last call of a kind, [progress.TickFit] or [progress.TickPaint],
// asks for a piece.
func (q *Sequence) called(what string, piece int) bool {
	for _, calls := range q.calls {
		if slices.ContainsFunc(calls, func(c Call) bool { return c.What == what && c.Piece == piece }) {
			return true
		}
	}
	return false
}

// shut is the step after which no route of an access is open, -1 if one always is.
// forGood passes over what can be undone again. Turning is relied on only where
// there is no other way.
func (q *Sequence) shut(a *Access, forGood bool) int {
	usable := func(t Route) bool { return t.Pass > ByTurning }
	if !slices.ContainsFunc(a.Routes, usable) {
		usable = func(t Route) bool { return t.Pass == ByTurning }
	}
	last := -1
	for _, t := range a.Routes {
		if !usable(t) {
			continue
		}
		v, closes := q.closedBy(&t, forGood)
		if !closes {
			return -1
		}
		if v >= 0 && (last < 0 || q.Place[v] > q.Place[last]) {
			last = v
		}
	}
	return last
}

// opens reports whether a join that opens shuts one of the routes.
func (a *Access) opens() bool {
	return slices.ContainsFunc(a.Routes, func(t Route) bool { return t.reopens() })
}

// lostAgain is the step after which an access is shut whatever is taken off for it; -1 if
// it never is. Where that takes too long to find out it is the step that shuts it first:
// better a call too early than none.
func (q *Sequence) lostAgain(a *Access, standing func(at int) *moment) int {
	r, from, end := q.Solution.Constraints, q.Place[a.Step], len(q.Order)
	lost := func(at int) bool {
		m := standing(at).with(false, a.Step)
		m.through = a
		return r.asked <= maxAsked && !m.admits(a.Step) && m.anyDetour(a.Step, true) == nil
	}
	// More that is done never opens a way, so the first that shuts it is found by halving.
	// Mostly it is the one that shuts it first at all, or none.
	first := q.shut(a, false)
	if first >= 0 && q.Place[first] > from {
		switch at := q.Place[first] - 1; {
		case !lost(at):
			if from = at + 1; !lost(end - 1) {
				from = end
			}
		case at == from || !lost(at-1):
			from, end = at, at
		default:
			end = at - 1
		}
	}
	at := from + sort.Search(end-from, func(n int) bool { return lost(from + n) })
	switch {
	case r.asked > maxAsked:
		return first
	case at == len(q.Order):
		return -1
	}
	return q.Order[at]
}

// standing gives the model as it stands once an entry of the order is done. The last few
// that were asked for are kept, since many pieces ask for the same.
func (q *Sequence) standing() func(at int) *moment {
	r, kept := q.Solution.Constraints, map[int]*moment{}
	return func(at int) *moment {
		if kept[at] == nil {
			if len(kept) == maxStanding {
				clear(kept)
			}
			kept[at] = r.moment(r.only(q.Order[:at+1]), q.Solution.Relaxation.Turning)
		}
		return kept[at]
	}
}

const maxStanding = 32

// closedBy is the step that closes a route, if any does; -1 for a route that is closed
// from the start.
func (q *Sequence) closedBy(t *Route, forGood bool) (step int, closes bool) {
	for i := range t.Blockers {
		b := &t.Blockers[i]
		if forGood && len(b.Reopens) > 0 {
			continue
		}
		v := q.Latest(b.Joins)
		if v < 0 {
			return -1, true
		}
		if !closes || q.Place[v] < q.Place[step] {
			step = v
		}
		closes = true
	}
	return step, closes
}

var callRank = map[string]int{progress.TickFit: 0, progress.TickThread: 1, progress.TickPaint: 2, progress.TickDo: 3}

// call adds a call once; the innermost space is named.
func (q *Sequence) call(v int, c Call) {
	for _, old := range q.calls[v] {
		if old.What == c.What && old.Piece == c.Piece && old.Wire == c.Wire && old.Task == c.Task {
			return
		}
	}
	c.Step = v
	q.calls[v] = append(q.calls[v], c)
}

// Latest is the step of the list that is done last.
func (q *Sequence) Latest(list []int32) int {
	last := -1
	for _, v := range list {
		if last < 0 || q.Place[v] > q.Place[last] {
			last = int(v)
		}
	}
	return last
}

// wallCalls adds the calls for walls: pieces painted before closing that no space holds.
func (q *Sequence) wallCalls() {
	r := q.Solution.Constraints
	held := HeldPieces(r.Kit)
	for p, pc := range r.Kit.Pieces {
		if pc.Part.Paint != kits.PaintBeforeClose || held[p] {
			continue
		}
		if v := q.walledIn(p, true); v >= 0 {
			q.call(v, Call{What: progress.TickPaint, Piece: p})
		}
	}
}

// walledIn is the step at which the inside of a wall gets out of reach: the last closing
// that names it or, if none does, when the whole sides that face it are shut. For a wall
// of several spaces the first such step counts. forGood passes over what opens again.
func (q *Sequence) walledIn(p int, forGood bool) int {
	r := q.Solution.Constraints
	last := -1
	for _, c := range r.Closings[p] {
		if !(forGood && r.Change.IsOpen(r.Steps[c].Join)) && (last < 0 || q.Place[c] > q.Place[last]) {
			last = c
		}
	}
	if last >= 0 {
		return last
	}
	first := -1
	for _, s := range r.walled(p) {
		if v := q.sidesShut(p, s, forGood); v >= 0 && (first < 0 || q.Place[v] < q.Place[first]) {
			first = v
		}
	}
	return first
}

// walled lists the spaces that a piece is a wall of: those it closes or, failing
// that, those closed by what is joined to it.
func (r *Constraints) walled(p int) []*kits.Space {
	closedBy := func(pieces []int) []*kits.Space {
		var list []*kits.Space
		for _, s := range r.Kit.Spaces {
			if slices.ContainsFunc(s.ClosedBy, func(c kits.Closer) bool { return slices.Contains(pieces, c.Piece) }) {
				list = append(list, s)
			}
		}
		return list
	}
	if own := closedBy([]int{p}); own != nil {
		return own
	}
	return closedBy(r.Neighbours(p))
}

// sidesShut is the step at which the last whole side of a space, seen from a wall,
// is shut; -1 if one never is or, forGood, opens again.
func (q *Sequence) sidesShut(p int, s *kits.Space, forGood bool) int {
	r := q.Solution.Constraints
	last := -1
	for _, c := range s.ClosedBy {
		if c.Piece < 0 || c.Piece == p || c.Opening != nil || !r.tree.tied(c.Piece, p) {
			continue
		}
		path := r.tree.path(c.Piece, p)
		if forGood && slices.ContainsFunc(path, func(v int32) bool { return r.Change.IsOpen(r.Steps[v].Join) }) {
			return -1
		}
		if v := q.Latest(path); v >= 0 && (last < 0 || q.Place[v] > q.Place[last]) {
			last = v
		}
	}
	return last
}

// taskCalls adds the tasks that must be done before a step that shuts something.
func (q *Sequence) taskCalls() {
	r := q.Solution.Constraints
	for _, n := range r.Needs {
		if r.Steps[n.Before].Kind != Task || r.Statements[n.Statement].Kind != OfOrder {
			continue
		}
		closing := r.Steps[n.After].Kind == Close && !r.Change.IsOpen(r.Steps[n.After].Join)
		if closing || len(q.calls[n.After]) > 0 {
			q.call(n.After, Call{What: progress.TickDo, Piece: -1, Task: r.Steps[n.Before].Task})
		}
	}
}

// LastCall lists what is out of reach for good once a step is done.
func (q *Sequence) LastCall(step int) []Call { return q.calls[step] }

// CallsOf lists the last calls for some pieces, and for a wire unless its id is empty, by
// their steps.
func (q *Sequence) CallsOf(pieces []int, wire string) []Call {
	var list []Call
	for _, v := range q.Order {
		for _, c := range q.calls[v] {
			if c.Piece >= 0 && slices.Contains(pieces, c.Piece) || wire != "" && c.Wire == wire {
				list = append(list, c)
			}
		}
	}
	return list
}
