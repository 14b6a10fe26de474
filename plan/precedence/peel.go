package precedence

import (
	"slices"

	"dryfit/plan/queue"
)

// Order returns a valid order of all steps and no stuck ones, or no order and the
// steps that cannot be removed, ascending: the largest set in which each step
// waits for another of the set. rank says what a person would do late: among the
// steps that may be last, the one with the greatest rank is removed first. A nil
// rank is the step's own number. Time is linear in the constraints, times the
// logarithm of the number of steps for the ranking.
func (s *System) Order(rank []int) (order, stuck []int) {
	order, stuck = s.Peel(rank)
	if len(stuck) > 0 {
		return nil, stuck
	}
	slices.Reverse(order)
	return order, nil
}

// Peel removes as many steps as it can, as [System.Order] does. It returns them in the
// order in which they were removed, and the stuck ones ascending.
func (s *System) Peel(rank []int) (removed, stuck []int) {
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
	removed = make([]int, 0, s.n)
	for !free.Empty() {
		v := free.Pop()
		removed = append(removed, int(v))
		p.remove(v, free.Push)
	}
	return removed, p.remaining()
}

// Solvable reports whether a valid order exists, in time linear in the constraints.
func (s *System) Solvable() bool { return len(s.Stuck()) == 0 }

// Stuck returns the steps that cannot be removed, ascending.
func (s *System) Stuck() []int {
	p := newPeeling(s)
	p.all()
	return p.remaining()
}

// peeling is the state of one pass: which steps remain, and what each of them waits for.
type peeling struct {
	sys   *System
	g     *graph
	later []int32 // step -> remaining steps that need it
	unmet []int32 // step -> its clauses that are not met
	met   []bool  // clauses that are met
	gone  []bool  // steps that are removed
	list  []int32 // the same, in the order in which they were removed
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
	for _, v := range p.list {
		p.gone[v] = false
		before, clauses := p.g.frees(v)
		for _, w := range before {
			p.later[w] = p.g.later[w]
		}
		for _, c := range clauses {
			p.met[c], p.unmet[p.sys.clauses[c].step] = false, p.g.unmet[p.sys.clauses[c].step]
		}
	}
	p.list = p.list[:0]
}

// free reports whether v may be removed next.
func (p *peeling) free(v int32) bool {
	return !p.gone[v] && p.later[v] == 0 && p.unmet[v] == 0
}

// remove removes v and reports each step that this frees.
func (p *peeling) remove(v int32, freed func(int32)) {
	p.gone[v] = true
	p.list = append(p.list, v)
	before, clauses := p.g.frees(v)
	for _, w := range before {
		p.later[w]--
		if p.free(w) {
			freed(w)
		}
	}
	for _, c := range clauses {
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

// all removes everything that can be removed.
func (p *peeling) all() {
	p.drain(p.remaining(), func(int32) bool { return true })
}

// drain removes steps, beginning with some, as long as any can be removed.
func (p *peeling) drain(some []int, may func(int32) bool) {
	var queue []int32
	push := func(w int32) {
		if may(w) {
			queue = append(queue, w)
		}
	}
	for _, v := range some {
		if p.free(int32(v)) {
			push(int32(v))
		}
	}
	for len(queue) > 0 {
		v := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		p.remove(v, push)
	}
}

// remaining lists the steps that are not removed, ascending.
func (p *peeling) remaining() []int {
	var list []int
	for v, gone := range p.gone {
		if !gone {
			list = append(list, v)
		}
	}
	return list
}
