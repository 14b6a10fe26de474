package rehearse

import (
	"cmp"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// Move puts one action of a sequence before another. Both are indices in the sequence as
// it was before the move; Before is the length of the sequence for its end.
type Move struct{ Action, Before int }

// After reports whether the action moves towards the end.
func (v Move) After() bool { return v.Before > v.Action }

// distance is how many actions it passes.
func (v Move) distance() int {
	if v.After() {
		return v.Before - v.Action - 1
	}
	return v.Action - v.Before
}

// Apply is the sequence after the move.
func (v Move) Apply(sequence []Action) []Action {
	list := slices.Delete(slices.Clone(sequence), v.Action, v.Action+1)
	at := v.Before
	if v.After() {
		at--
	}
	return slices.Insert(list, at, sequence[v.Action])
}

// Advice is what would make a sequence work.
type Advice struct {
	// Place is the nearest place at which the action that fails can be done, if it alone is
	// moved; nil if there is none.
	Place *Move
	// Moves make the whole sequence work: one, or two of which the second is counted in
	// the sequence after the first. There are none if none were found.
	Moves []Move
	Fixed []Action // the sequence after the moves
}

// Bounds of the search for moves: on the actions replayed, and on the first moves that a
// second one is looked for after.
const (
	maxReplayed = 150_000
	maxFirst    = 12
)

// Advise looks for the smallest change of a sequence that fails: one action moved, the
// shorter the way the better, or else two. The search is bounded, so moves can exist that
// it does not find.
func Advise(k *kits.Kit, g *plan.Geometry, steps []plan.Step, sequence []Action) Advice {
	var a Advice
	s := newSearch(newModel(k, g, steps), sequence)
	if s.ok() {
		return a
	}
	a.Place = s.place()
	if first, works := s.one(); works {
		a.Moves, a.Fixed = first[:1], first[0].Apply(sequence)
	} else if pair := s.two(first); pair != nil {
		a.Moves, a.Fixed = pair, pair[1].Apply(pair[0].Apply(sequence))
	}
	return a
}

// search looks for a move in a sequence that fails.
type search struct {
	sequence []Action
	result   *Result
	before   []*model // the model before each action, up to the one that fails
}

func newSearch(m *model, sequence []Action) *search {
	m.record = true
	r, before := m.clone().follow(sequence, 0)
	m.record = false
	return &search{sequence, r, before}
}

func (s *search) ok() bool { return s.result.Failure == nil }

// tired reports whether the search has replayed enough.
func (s *search) tired() bool { return s.before[0].work > maxReplayed }

// after is how far the sequence can be followed after a move.
func (s *search) after(v Move) *Result {
	from := min(v.Action, v.Before)
	r, _ := s.before[from].clone().follow(v.Apply(s.sequence), from)
	return r
}

// place is the nearest place at which the action that fails can be done instead: before
// another one, or else later.
func (s *search) place() *Move {
	at := s.result.Fine
	for to := at - 1; to >= 0 && !s.tired(); to-- {
		if v := (Move{at, to}); s.can(to, s.sequence[at]) && s.after(v).Fine > at {
			return &v
		}
	}
	m := s.before[at].clone()
	for to := at + 1; to < len(s.sequence) && !s.tired(); to++ {
		if _, f := m.act(s.sequence[to]); f != nil {
			return nil
		}
		if _, f := m.clone().act(s.sequence[at]); f == nil {
			return &Move{at, to + 1}
		}
	}
	return nil
}

// can reports whether an action can be done at a place.
func (s *search) can(at int, a Action) bool {
	_, f := s.before[at].clone().act(a)
	return f == nil
}

// failures is how many actions fail after a move, if those that fail are left out.
func (s *search) failures(v Move) int {
	from := min(v.Action, v.Before)
	m := s.before[from].clone()
	n := 0
	for _, a := range v.Apply(s.sequence)[from:] {
		if _, f := m.act(a); f != nil {
			n++
		}
	}
	return n
}

// one looks for a move that makes the whole sequence work. If there is none it lists
// those that get further, first those after which the fewest actions fail.
func (s *search) one() (list []Move, works bool) {
	type try struct {
		move           Move
		failures, fine int
	}
	var tries []try
	helps := map[int]bool{}
	for _, v := range s.moves() {
		if s.tired() {
			break
		}
		if _, known := helps[v.Action]; !known {
			helps[v.Action] = s.helps(v.Action)
		}
		if !helps[v.Action] {
			continue
		}
		r := s.after(v)
		if r.Failure == nil {
			return []Move{v}, true
		}
		if r.Fine > s.result.Fine {
			tries = append(tries, try{v, s.failures(v), r.Fine})
		}
	}
	slices.SortStableFunc(tries, func(a, b try) int { return cmp.Or(cmp.Compare(a.failures, b.failures), cmp.Compare(b.fine, a.fine)) })
	for _, t := range tries[:min(len(tries), maxFirst)] {
		list = append(list, t.move)
	}
	return list, false
}

// two looks for a second move after each of some first ones.
func (s *search) two(first []Move) []Move {
	var best []Move
	length := func(list []Move) int { return list[0].distance() + list[1].distance() }
	for _, v := range first {
		if s.tired() {
			break
		}
		next := newSearch(s.before[0].clone(), v.Apply(s.sequence))
		if second, works := next.one(); works {
			if pair := []Move{v, second[0]}; best == nil || length(pair) < length(best) {
				best = pair
			}
		}
	}
	return best
}

// moves lists the moves that change what stands when the action that fails has its turn:
// that action goes elsewhere, one before it goes behind it, or one behind it goes before
// it. The shortest come first.
func (s *search) moves() []Move {
	at, n := s.result.Fine, len(s.sequence)
	var list []Move
	for to := 0; to <= n; to++ {
		if to != at && to != at+1 {
			list = append(list, Move{at, to})
		}
	}
	for i := 0; i < at; i++ {
		for to := at + 1; to <= n; to++ {
			list = append(list, Move{i, to})
		}
	}
	for i := at + 1; i < n; i++ {
		for to := 0; to <= at; to++ {
			list = append(list, Move{i, to})
		}
	}
	slices.SortStableFunc(list, func(a, b Move) int { return cmp.Compare(a.distance(), b.distance()) })
	return list
}

// helps reports whether the action that fails can be done once another one is not yet
// done, or done before it.
func (s *search) helps(i int) bool {
	at := s.result.Fine
	switch {
	case i == at:
		return true
	case i > at:
		m := s.before[at].clone()
		if _, f := m.act(s.sequence[i]); f != nil {
			return false
		}
		_, f := m.act(s.sequence[at])
		return f == nil
	}
	m := s.before[i].clone()
	rest := slices.Concat(s.sequence[i+1:at], s.sequence[at:at+1])
	r, _ := m.follow(rest, 0)
	return r.Failure == nil
}
