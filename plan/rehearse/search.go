package rehearse

import (
	"cmp"
	"iter"
	"slices"
)

// maxSearched bounds the work of a search, in pieces and steps looked at: some seconds.
const maxSearched = 150_000_000

// search looks for a smallest change of a sequence that fails. Actions go by their index
// in the sequence.
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

// tired reports whether the search has replayed enough.
func (s *search) tired() bool { return s.before[0].work > maxSearched }

// fails is the index of the action that fails.
func (s *search) fails() int { return s.result.Fine }

func (s *search) actions(order []int) []Action {
	list := make([]Action, len(order))
	for i, a := range order {
		list[i] = s.sequence[a]
	}
	return list
}

// place is the nearest place at which the action that fails can be done instead: before
// another one, or else later. What fails on the way there is left out.
func (s *search) place() *Move {
	at := s.fails()
	for to := at - 1; to >= 0 && !s.tired(); to-- {
		v := Move{at, to}
		r, _ := s.before[to].clone().follow(v.Apply(s.sequence)[:at+1], to)
		if r.Failure == nil {
			return &v
		}
	}
	m := s.before[at].clone()
	for to := at + 1; to < len(s.sequence) && !s.tired(); to++ {
		if _, f := m.act(s.sequence[to]); f == nil && s.does(m.clone(), at) {
			return &Move{at, to + 1}
		}
	}
	return nil
}

// filled is what came of holding some actions back and doing them elsewhere.
type filled struct {
	order []int  // what could be done; the whole sequence if nothing failed
	fails int    // index in the sequence of what failed; -1 if nothing did
	at    *model // before that
}

// fill replays the sequence without some actions, and does those once they are needed:
// when another one fails without them, or at the end. If eager it does them as soon as
// they can be done.
func (s *search) fill(held []int, eager bool) filled {
	m := s.before[0].clone()
	out := filled{fails: -1}
	done := func(list ...int) {
		out.order = append(out.order, list...)
		held = slices.DeleteFunc(slices.Clone(held), func(a int) bool { return slices.Contains(list, a) })
	}
	for a := range s.sequence {
		if slices.Contains(held, a) || slices.Contains(out.order, a) {
			continue
		}
		if eager {
			for _, h := range held {
				if s.does(m, h) {
					done(h)
				}
			}
		}
		list := s.doesAfter(m, held, a)
		if list == nil {
			out.fails, out.at = a, m
			return out
		}
		done(list...)
	}
	for _, h := range held {
		if list := s.doesAfter(m, slices.DeleteFunc(slices.Clone(held), func(a int) bool { return a == h }), h); list != nil {
			done(list...)
		}
	}
	if len(held) > 0 {
		out.fails, out.at = held[0], m
	}
	return out
}

// does does some actions, or leaves the model as it was.
func (s *search) does(m *model, list ...int) bool {
	trial := m.clone()
	for _, a := range list {
		if _, f := trial.act(s.sequence[a]); f != nil {
			return false
		}
	}
	*m = *trial
	return true
}

// doesOnce reports whether an action can be done in a model once another one is done, for
// which there may be room only earlier.
func (s *search) doesOnce(m *model, other, a int) bool {
	trial := m.clone()
	if b := s.sequence[other]; b.Off {
		trial.undo(b.Step)
	} else {
		trial.make(b.Step)
	}
	return s.does(trial, a)
}

// doesAfter does an action, after as few as possible of those held back. It lists what was
// done; nothing if it cannot be done.
func (s *search) doesAfter(m *model, held []int, a int) []int {
	lists := [][]int{{a}}
	for _, h := range held {
		lists = append(lists, []int{h, a})
	}
	if len(held) == 2 {
		lists = append(lists, []int{held[0], held[1], a}, []int{held[1], held[0], a})
	}
	for _, list := range lists {
		if s.does(m, list...) {
			return list
		}
	}
	return nil
}

// works lists the orders in which the sequence works with some actions held back.
func (s *search) works(held ...int) (list [][]int) {
	for _, eager := range []bool{false, true} {
		if f := s.fill(held, eager); f.fails < 0 {
			list = append(list, f.order)
		}
	}
	return list
}

// one is an order that works with a single action moved, as short a way as possible; nil
// if there is none.
func (s *search) one() []int {
	var found [][]int
	for a := range s.helpful() {
		orders := s.works(a)
		if orders == nil {
			orders = s.elsewhere(a)
		}
		for _, order := range orders {
			found = append(found, s.nearer(order, a))
		}
	}
	return shortest(found)
}

// elsewhere is an order that works with an action at some other place, if there is one.
func (s *search) elsewhere(a int) [][]int {
	rest := slices.Delete(indices(len(s.sequence)), a, a+1)
	for at := range s.sequence {
		list := slices.Insert(slices.Clone(rest), at, a)
		if s.tired() {
			break
		}
		if r, _ := s.before[0].clone().follow(s.actions(list), 0); r.Failure == nil {
			return [][]int{list}
		}
	}
	return nil
}

// two is an order that works with two actions moved; nil if none was found.
func (s *search) two() []int {
	var found [][]int
	for a := range s.helpful() {
		for _, eager := range []bool{false, true} {
			for _, b := range s.next(a, eager) {
				if s.tired() {
					break
				}
				for _, order := range s.works(a, b) {
					found = append(found, s.nearer(s.nearer(order, a), b))
				}
			}
		}
	}
	return shortest(found)
}

// helpful goes through the actions without which, or after which, the one that fails can
// be done, and that one; the nearest first.
func (s *search) helpful() iter.Seq[int] {
	at := s.fails()
	list := indices(len(s.sequence))
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(far(a-at), far(b-at)) })
	return func(yield func(int) bool) {
		for _, a := range list {
			if s.tired() || s.helps(a) && !yield(a) {
				return
			}
		}
	}
}

func (s *search) helps(a int) bool {
	at := s.fails()
	if a >= at {
		return a == at || s.doesOnce(s.before[at], a, at)
	}
	r, _ := s.before[a].clone().follow(s.sequence[a+1:at+1], 0)
	return r.Failure == nil
}

// next lists the actions to hold back with another one: what fails then, what would help
// that, and what was done before it.
func (s *search) next(a int, eager bool) []int {
	f := s.fill([]int{a}, eager)
	if f.fails < 0 || f.fails == a {
		return nil
	}
	list := []int{f.fails}
	for b := range s.sequence {
		if b != a && !slices.Contains(f.order, b) && b != f.fails && s.doesOnce(f.at, b, f.fails) {
			list = append(list, b)
		}
	}
	for _, b := range slices.Backward(f.order) {
		if b != a {
			list = append(list, b)
		}
	}
	return list
}

// nearer moves an action of an order that works as near to its old place as it works.
func (s *search) nearer(order []int, a int) []int {
	rest := slices.DeleteFunc(slices.Clone(order), func(b int) bool { return b == a })
	home := 0 // where it stood among the others
	for i, b := range rest {
		if b < a {
			home = i + 1
		}
	}
	for d := 1; d < far(slices.Index(order, a)-home) && !s.tired(); d++ {
		for _, at := range []int{home - d, home + d} {
			if at < 0 || at > len(rest) {
				continue
			}
			list := slices.Insert(slices.Clone(rest), at, a)
			r, _ := s.before[0].clone().follow(s.actions(list), 0)
			if r.Failure == nil {
				return list
			}
		}
	}
	return order
}

// shortest is the order in which the actions stand least far from their places.
func shortest(orders [][]int) []int {
	if len(orders) == 0 {
		return nil
	}
	return slices.MinFunc(orders, func(a, b []int) int { return cmp.Compare(spread(a), spread(b)) })
}

// spread is how far the entries of an order stand from their places, in all.
func spread(order []int) int {
	n := 0
	for i, a := range order {
		n += far(i - a)
	}
	return n
}

func far(n int) int { return max(n, -n) }

// indices lists 0, 1, 2 and so on.
func indices(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}
