package precedence

import (
	"slices"

	"dryfit/plan/queue"
)

// Order returns a valid order of all steps and no stuck ones, or no order and
// the steps that could not be peeled, in ascending sequence: the largest set in
// which each step waits for another of the set. rank says what a person would
// want late: among the steps that may be last, the one with the greatest rank is
// taken off first. A nil rank is the step's own number. Time is linear in the
// constraints, times the logarithm of the number of steps for the ranking.
func (s *System) Order(rank []int) (order, stuck []int) {
	taken, left := s.Peel(rank)
	if len(left) > 0 {
		return nil, left
	}
	slices.Reverse(taken)
	return taken, nil
}

// Peel takes off as many steps as it can, as [System.Order] does. It returns them in
// the sequence in which they came off, and the others in ascending sequence.
func (s *System) Peel(rank []int) (taken, left []int) {
	p := newPeeling(s)
	free := queue.New(func(a, b int32) bool {
		if rank != nil && rank[a] != rank[b] {
			return rank[a] > rank[b]
		}
		return a > b
	})
	for v := range int32(s.n) {
		if p.free(v) {
			free.Push(v)
		}
	}
	taken = make([]int, 0, s.n)
	for !free.Empty() {
		v := free.Pop()
		taken = append(taken, int(v))
		p.take(v, free.Push)
	}
	return taken, p.left()
}

// Solvable reports whether a valid order exists, in time linear in the constraints.
func (s *System) Solvable() bool { return len(s.Stuck()) == 0 }

// Stuck returns the steps that cannot be peeled, in ascending sequence.
func (s *System) Stuck() []int {
	p := newPeeling(s)
	p.all(-1)
	return p.left()
}

// peeling is the state of one pass: what is still on, and what each step left on
// waits for.
type peeling struct {
	sys   *System
	g     *graph
	later []int32 // needs of others that still stand
	unmet []int32 // clauses that are still unmet
	met   []bool  // clauses that are met
	gone  []bool  // steps taken off
	queue []int32
}

func newPeeling(s *System) *peeling {
	g := s.compiled()
	return &peeling{
		sys: s, g: g,
		later: append([]int32(nil), g.later...),
		unmet: append([]int32(nil), g.unmet...),
		met:   make([]bool, len(s.clauses)),
		gone:  make([]bool, s.n),
	}
}

// reset makes a peeling that was used ready for another pass.
func (p *peeling) reset() {
	copy(p.later, p.g.later)
	copy(p.unmet, p.g.unmet)
	clear(p.met)
	clear(p.gone)
}

// free reports whether v may come off next.
func (p *peeling) free(v int32) bool {
	return !p.gone[v] && p.later[v] == 0 && p.unmet[v] == 0
}

// take takes v off and reports each step that this frees.
func (p *peeling) take(v int32, freed func(int32)) {
	p.gone[v] = true
	for _, w := range p.g.before[p.g.first[v]:p.g.first[v+1]] {
		p.later[w]--
		if p.free(w) {
			freed(w)
		}
	}
	for _, c := range p.g.clause[p.g.opens[v]:p.g.opens[v+1]] {
		if p.met[c] {
			continue
		}
		p.met[c] = true
		w := p.sys.clauses[c].step
		p.unmet[w]--
		if p.free(w) {
			freed(w)
		}
	}
}

// all takes off everything that comes off while the step held stays on; -1 holds
// nothing.
func (p *peeling) all(held int32) { p.drain(func(w int32) bool { return w != held }) }

// drain takes off what comes off of the steps that may.
func (p *peeling) drain(may func(int32) bool) {
	p.queue = p.queue[:0]
	push := func(w int32) {
		if may(w) {
			p.queue = append(p.queue, w)
		}
	}
	for v := range int32(p.sys.n) {
		if p.free(v) {
			push(v)
		}
	}
	for len(p.queue) > 0 {
		v := p.queue[len(p.queue)-1]
		p.queue = p.queue[:len(p.queue)-1]
		p.take(v, push)
	}
}

func (p *peeling) left() []int {
	var left []int
	for v, gone := range p.gone {
		if !gone {
			left = append(left, v)
		}
	}
	return left
}
