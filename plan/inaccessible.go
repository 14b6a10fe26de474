package plan

import (
	"fmt"
	"slices"
	"strings"
)

// Inaccessible is a piece or a wire that can no longer get to its place because
// of steps already done.
type Inaccessible struct {
	Piece int    // -1 for a wire
	Who   string // the id of the piece or wire
	By    []int  // the done steps that shut its ways in, in order
	Text  string // for the builder
}

// Inaccessible lists what a step would bring in but the steps already done keep
// out. It is empty for a step that merely waits for others.
func (x *Remaining) Inaccessible(step int) []Inaccessible {
	r := x.q.Solution.Constraints
	var list []Inaccessible
	for _, i := range r.AccessOf(step) {
		s, shut := x.inaccessible(i)
		if shut && (r.Access[i].Space != nil || !slices.ContainsFunc(list, func(o Inaccessible) bool { return o.Who == s.Who })) {
			list = append(list, s)
		}
	}
	return list
}

// inaccessible reports whether every route of an access is closed by what is done
// and stays, and which steps did it: for each blocker the last in order.
func (x *Remaining) inaccessible(i int) (Inaccessible, bool) {
	r := x.q.Solution.Constraints
	a := &r.Access[i]
	s := Inaccessible{Piece: a.Piece, Who: r.Who(a)}
	if a.Learned && !a.under.covers(x.Relaxation) {
		return s, false
	}
	var others []int
	for k := range a.Routes {
		t := &a.Routes[k]
		if !t.passable(at(x.relaxed, i)) {
			continue
		}
		closed := false
		for n := range t.Blockers {
			b := &t.Blockers[n]
			if !b.counts(at(x.relaxed, i)) || !x.allDone(b.Joins, a.Step) {
				continue
			}
			closed = true
			s.by(x.latestDone(b.Joins))
			if !slices.Contains(others, b.Piece) {
				others = append(others, b.Piece)
			}
		}
		if !closed {
			return s, false
		}
	}
	if len(s.By) == 0 {
		return s, false // it fits no opening, or sits on what closes the space: a fault of the kit itself
	}
	x.q.inSequence(s.By)
	if a.Space != nil {
		s.Text = fmt.Sprintf("%s can no longer get into %s: %s", x.q.subject(a), a.Space.ID, x.q.done(s.By))
		return s, true
	}
	slices.Sort(others)
	s.Text = fmt.Sprintf("%s can no longer travel to its seat past %s: %s", x.q.subject(a), r.Labels(others), x.q.done(s.By))
	return s, true
}

// subject is the builder's name for a piece or wire.
func (q *Sequence) subject(a *Access) string {
	if a.Wire != nil {
		return a.Wire.ID
	}
	return q.label(a.Piece)
}

// allDone reports whether all steps of a list are done once a step is.
func (x *Remaining) allDone(list []int32, step int) bool {
	return !slices.ContainsFunc(list, func(v int32) bool { return !x.Done[v] && int(v) != step })
}

// latestDone is the done step of a list that comes last in the sequence, -1 if none is.
func (x *Remaining) latestDone(list []int32) int {
	return x.q.Latest(slices.DeleteFunc(slices.Clone(list), func(v int32) bool { return !x.Done[v] }))
}

func (s *Inaccessible) by(step int) {
	if step >= 0 && !slices.Contains(s.By, step) {
		s.By = append(s.By, step)
	}
}

// inSequence sorts steps by their place in the order.
func (q *Sequence) inSequence(steps []int) {
	slices.SortFunc(steps, func(a, b int) int { return q.Place[a] - q.Place[b] })
}

// done words that steps are done.
func (q *Sequence) done(steps []int) string {
	var names []string
	for _, v := range steps {
		names = append(names, q.Named(v))
	}
	if len(names) == 1 {
		return names[0] + " is done"
	}
	return and(names) + " are done"
}

// Named names a step by its number and, if it has one, its name: step 67
// (hull-closing).
func (q *Sequence) Named(step int) string {
	text := fmt.Sprintf("step %d", q.Place[step])
	if said := q.Solution.Constraints.Steps[step].Said(); said.Step != "" {
		return text + " (" + said.Step + ")"
	}
	if s := q.Solution.Constraints.Steps[step]; s.Kind == Fit {
		return text + " (" + strings.TrimPrefix(q.Solution.Constraints.Name(step), "fitting ") + ")"
	}
	return text
}
