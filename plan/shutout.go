package plan

import (
	"fmt"
	"slices"
	"strings"
)

// Shut is a piece, or a wire, that steps which are done keep from its place.
type Shut struct {
	Piece int    // -1 for a wire
	Who   string // the id of the piece or wire
	By    []int  // the done steps that shut its ways, in their sequence
	Text  string // for the builder
}

// Shut lists what a step would bring in and what is done already keeps out. It is empty
// for a step that merely waits for others.
func (x *Rest) Shut(step int) []Shut {
	r := x.q.Solution.Constraints
	var list []Shut
	for _, i := range r.entriesOf[step] {
		if s, shut := x.shutEntry(i); shut {
			list = append(list, s)
		}
	}
	for _, i := range r.TravelsOf(step) {
		if s, shut := x.shutTravel(i); shut && !slices.ContainsFunc(list, func(o Shut) bool { return o.Who == s.Who }) {
			list = append(list, s)
		}
	}
	return list
}

// shutEntry reports whether all ways into a space are shut, and which steps did it: for
// each way the last of the sequence.
func (x *Rest) shutEntry(i int) (Shut, bool) {
	r := x.q.Solution.Constraints
	e := &r.Entries[i]
	if e.unreachable() {
		return Shut{}, false
	}
	s := Shut{Piece: e.Piece, Who: r.who(e)}
	for k := range e.Ways {
		w := &e.Ways[k]
		if !w.allowed(x.allow[i]) {
			continue
		}
		if w.Open || x.allow[i].Reopen && len(w.Reopens) > 0 || !x.allDone(w.Shut, e.Step) {
			return s, false
		}
		s.by(x.latestDone(w.Shut))
	}
	if len(s.By) == 0 {
		return s, false // it sits on what closes the space: a matter of the kit
	}
	x.q.inSequence(s.By)
	s.Text = fmt.Sprintf("%s can no longer get into %s: %s", x.q.called(e), e.Space.ID, x.q.done(s.By))
	return s, true
}

// called is a piece or wire as the builder reads it.
func (q *Sequence) called(e *Entry) string {
	if e.Wire != nil {
		return e.Wire.ID
	}
	return q.label(e.Piece)
}

// shutTravel reports whether something that stays is in the way on every route.
func (x *Rest) shutTravel(i int) (Shut, bool) {
	r := x.q.Solution.Constraints
	t := &r.Travels[i]
	s := Shut{Piece: t.Piece, Who: r.pieceName(t.Piece)}
	var others []int
	for k := range t.Routes {
		barred := false
		for _, h := range t.Routes[k].Hindrances {
			if x.Allowance.Reopen && h.reopens || !x.allDone(h.Shut, t.Step) {
				continue
			}
			barred = true
			s.by(x.latestDone(h.Shut))
			if !slices.Contains(others, h.Other) {
				others = append(others, h.Other)
			}
		}
		if !barred {
			return s, false
		}
	}
	if len(others) == 0 {
		return s, false
	}
	slices.Sort(others)
	x.q.inSequence(s.By)
	s.Text = fmt.Sprintf("%s can no longer travel to its seat past %s: %s", x.q.label(t.Piece), r.Labels(others), x.q.done(s.By))
	return s, true
}

// allDone reports whether all steps of a list are done once a step is.
func (x *Rest) allDone(list []int32, step int) bool {
	return !slices.ContainsFunc(list, func(v int32) bool { return !x.Done[v] && int(v) != step })
}

// latestDone is the done step of a list that comes last in the sequence, -1 if none is.
func (x *Rest) latestDone(list []int32) int {
	return x.q.latest(slices.DeleteFunc(slices.Clone(list), func(v int32) bool { return !x.Done[v] }))
}

func (s *Shut) by(step int) {
	if step >= 0 && !slices.Contains(s.By, step) {
		s.By = append(s.By, step)
	}
}

// inSequence sorts steps by their numbers.
func (q *Sequence) inSequence(steps []int) {
	slices.SortFunc(steps, func(a, b int) int { return q.Place[a] - q.Place[b] })
}

// done says of steps that they are.
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

// Named is a step by its number and, if it has one, its name: step 67 (hull-closing).
func (q *Sequence) Named(step int) string {
	text := fmt.Sprintf("step %d", q.Place[step])
	if said := q.Solution.Constraints.Steps[step].said(); said.Step != "" {
		return text + " (" + said.Step + ")"
	}
	if s := q.Solution.Constraints.Steps[step]; s.Kind == Fit {
		return text + " (" + strings.TrimPrefix(q.Solution.Constraints.name(step), "fitting ") + ")"
	}
	return text
}
