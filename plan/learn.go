package plan

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
)

// What the clauses of routes leave out is learned from orders: that something taken off
// must come off, and go back, past all that stands there then, and that copies of one step
// can lock one another. A step that cannot be done in its place in an order cannot be done
// once the same joins are done in any other, since more of them never open a way. So the
// fewest of them that keep it out are a clause: one of them comes after the step. It is
// kept as an access of the step, marked as learned. Learning until an order works is
// complete, since removing steps from the end never needs backtracking.

// maxAsked bounds the work of learning, in pieces looked at. Beyond it nothing more is
// learned, only single joins are taken off, and the rehearsal of the order decides: one that
// fails then is reported as the limit that it is.
const maxAsked = 300_000_000

// learn checks the doubtful steps of an order, given from the last to the first. All others
// are done before it. It reports whether it learned anything.
func (r *Constraints) learn(taken []int, a Relaxation) bool {
	on := slices.Repeat([]bool{true}, len(r.Steps))
	learned := false
	for _, v := range taken {
		on[v] = false
		if !r.doubtful(v, a) {
			continue
		}
		if r.asked > maxAsked {
			r.gaveUp = true
			break
		}
		if r.can(v, on, a) {
			continue
		}
		r.addLesson(v, r.fewest(v, on, a), a)
		learned = true
	}
	return learned
}

// GaveUp reports whether learning reached its limit, so that an order may be wrong.
func (r *Constraints) GaveUp() bool { return r.gaveUp }

// Asked is the work of learning so far, in pieces looked at.
func (r *Constraints) Asked() int { return r.asked }

// doubtful reports whether the clauses of a step do not say all that it takes.
func (r *Constraints) doubtful(step int, a Relaxation) bool {
	if len(r.Steps[step].Movers()) > 1 && len(r.PastMeshes(step)) > 1 {
		return true
	}
	return a.Reopen && slices.ContainsFunc(r.accessOf[step], func(i int) bool {
		return slices.ContainsFunc(r.Access[i].Routes, func(t Route) bool { return t.reopens() })
	})
}

// can reports whether a step can be done when some others are.
func (r *Constraints) can(step int, on []bool, a Relaxation) bool {
	m := r.moment(on, a.Turning)
	return m.admits(step) || a.Reopen && m.anyDetour(step, true) != nil
}

// fewest lists joins, of those that are on, that keep a step from being done, and of which
// none can be left out. It drops them in runs of halving length.
func (r *Constraints) fewest(step int, on []bool, a Relaxation) []int {
	var kept []int
	for v, is := range on {
		if is && r.Steps[v].Task == nil {
			kept = append(kept, v)
		}
	}
	for run := (len(kept) + 1) / 2; run > 0; run /= 2 {
		for at := 0; at < len(kept) && r.asked <= maxAsked; {
			rest := slices.Concat(kept[:at], kept[min(at+run, len(kept)):])
			if r.can(step, r.only(rest), a) {
				at += run
			} else {
				kept = rest
			}
		}
	}
	return kept
}

// only marks some steps.
func (r *Constraints) only(steps []int) []bool {
	on := make([]bool, len(r.Steps))
	for _, v := range steps {
		on[v] = true
	}
	return on
}

// addLesson adds a clause: one of some joins comes after a step.
func (r *Constraints) addLesson(step int, joins []int, a Relaxation) {
	m := r.moment(r.only(joins), a.Turning)
	from := m.shutOut(step)
	lesson := Access{Step: step, Piece: from.Piece, Wire: from.Wire, Space: from.Space, Learned: true, under: a}
	b := Blocker{Mover: from.Piece, Piece: m.obstacle(from)}
	for _, v := range joins {
		b.Joins = append(b.Joins, int32(v))
	}
	lesson.Routes = []Route{{Pass: Straight, Leaving: -1, Closer: kits.Closer{Piece: b.Piece}, Blockers: []Blocker{b}}}
	st := Statement{At: r.Steps[step].Pos(), Kind: OfMeshes, Access: len(r.Access)}
	st.Text = fmt.Sprintf("%s is in the way of %s", r.PieceName(b.Piece), r.Who(&lesson))
	if lesson.Space != nil {
		st.At, st.Kind, st.Text = r.Statements[from.Statement].At, OfSpace, r.Statements[from.Statement].Text
	}
	st.Text += "; " + m.whyShut(step, a)
	lesson.Statement = r.state(st)
	r.addAccess(lesson)
	r.routes = append(r.routes, -1)
	if lesson.Space == nil {
		r.routes[len(r.routes)-1] = 0
	}
}

// forget drops what was learned.
func (r *Constraints) forget() {
	for i := range r.accessOf {
		r.accessOf[i] = slices.DeleteFunc(r.accessOf[i], func(n int) bool { return n >= r.derived })
	}
	r.Access, r.routes = r.Access[:r.derived], nil
}

// shutOut is the first access of a step that is not open as things are.
func (m *moment) shutOut(step int) *Access {
	for _, i := range m.IntoSpaces(step) {
		if a := &m.Access[i]; !a.Unreachable() && !m.enters(a.Routes, m.seats(a)) {
			return a
		}
	}
	list := m.PastMeshes(step)
	for _, i := range list {
		if a := &m.Access[i]; !m.leaves(step, a.Piece, m.Steps[step].Movers()) {
			return a
		}
	}
	return &m.Access[list[0]]
}

// obstacle is a piece that keeps an access shut as things are: one that opens if there is
// one, or another copy.
func (m *moment) obstacle(a *Access) int {
	best := -1
	for i := range a.Routes {
		for n := range a.Routes[i].Blockers {
			b := &a.Routes[i].Blockers[n]
			there := !slices.ContainsFunc(b.Joins, func(v int32) bool { return !m.stands(v) })
			if there && (best < 0 || b.opens) {
				if best = b.Piece; b.opens {
					return best
				}
			}
		}
	}
	if best < 0 {
		for _, p := range m.Steps[a.Step].InHand() {
			if p != a.Piece {
				best = p
				break
			}
		}
	}
	return best
}

// whyShut says why what opens does not let a step be done.
func (m *moment) whyShut(step int, a Relaxation) string {
	if !a.Reopen {
		return "the copies keep one another out, in whatever order they go in"
	}
	for _, v := range m.openable(step) {
		without := m.with(false, v)
		if !without.admits(step) {
			continue
		}
		what := m.PieceNames(m.Steps[v].Pieces())
		switch {
		case m.held(v):
			return fmt.Sprintf("%s opens, but something is fixed across it", m.Name(v))
		case !without.comesBy(v):
			return fmt.Sprintf("%s opens, but %s cannot be taken off past what stands there then", m.Name(v), what)
		}
		return fmt.Sprintf("%s opens, but %s cannot be put back past what stands there then", m.Name(v), what)
	}
	var names []string
	for _, v := range m.openable(step) {
		names = append(names, m.Name(v))
	}
	if len(names) == 0 {
		return "nothing that could open lets it in"
	}
	return strings.Join(names, ", ") + " cannot all be undone and made again around it"
}
