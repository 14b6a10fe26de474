package precedence

import "slices"

// Conflict returns a smallest set of statements that cannot hold together among
// the steps of one root: without any one of them the others can be met. Smallest
// means that no statement of the set can be dropped, not that no other set is
// shorter; of several such sets found, the shortest is returned. Constraints
// without a statement are facts and always hold; if they alone are in conflict
// the set is empty.
func (s *System) Conflict(root Root) []int {
	sub := s.only(root.Steps)
	all := sub.named()
	if len(sub.stuckWith(all)) == 0 {
		return nil
	}
	if len(root.Trapped) == 0 {
		// If needs alone conflict, a shortest cycle of them explains it best.
		all = sub.shortestRing()
	}
	best := sub.shrink(all)
	if len(best) == len(all) {
		return best // nothing can be dropped, in any order of trying
	}
	slices.Reverse(all)
	if other := sub.shrink(all); len(other) < len(best) {
		best = other
	}
	slices.Sort(best)
	return best
}

// maxRingWork bounds the search for a shortest cycle; beyond it the shortest
// cycle through the first steps is used.
const maxRingWork = 20_000_000

// shortestRing returns the statements of a shortest cycle of needs, each once,
// ascending.
func (s *System) shortestRing() []int {
	first, out := rows(s.n, len(s.needs), func(i int) (row, value int32) {
		return s.needs[i].before, int32(i)
	})
	var best []int32 // needs
	work := 0
	by := make([]int32, s.n)
	for v := range int32(s.n) {
		if work += len(s.needs) + s.n; best != nil && work > maxRingWork {
			break
		}
		clear(by)
		if ring := s.ringThrough(v, first, out, by); ring != nil && (best == nil || len(ring) < len(best)) {
			best = ring
		}
	}
	var statements []int
	for _, i := range best {
		statements = append(statements, s.why(s.needs[i].why)...)
	}
	slices.Sort(statements)
	return slices.Compact(statements)
}

// ringThrough finds a shortest cycle of needs through step v, breadth first. by
// is scratch, all zero: the need that led to a step, plus one.
func (s *System) ringThrough(v int32, first, out, by []int32) []int32 {
	queue := []int32{v}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, i := range out[first[at]:first[at+1]] {
			to := s.needs[i].after
			if by[to] == 0 {
				by[to] = i + 1
				queue = append(queue, to)
			}
			if to != v {
				continue
			}
			var ring []int32
			for w := v; ; {
				n := by[w] - 1
				ring = append(ring, n)
				if w = s.needs[n].before; w == v {
					return ring
				}
			}
		}
	}
	return nil
}

// only is the system of the given steps (ascending), renumbered, with the
// constraints among them.
func (s *System) only(steps []int) *System {
	number := make(map[int32]int, len(steps))
	for i, v := range steps {
		number[int32(v)] = i
	}
	sub := New(len(steps))
	for _, nd := range s.needs {
		b, inB := number[nd.before]
		a, inA := number[nd.after]
		if inA && inB {
			sub.Need(b, a, s.why(nd.why)...)
		}
	}
	for _, cl := range s.clauses {
		v, in := number[cl.step]
		if !in {
			continue
		}
		var oneOf []int
		outside := false
		for _, m := range s.members[cl.oneOf.from:cl.oneOf.to] {
			w, in := number[m]
			outside = outside || !in
			oneOf = append(oneOf, w)
		}
		// A member outside the root is removed already: the clause is met.
		if !outside {
			sub.Clause(v, oneOf, s.why(cl.why)...)
		}
	}
	return sub
}

func (s *System) why(sp span) []int {
	var list []int
	for _, b := range s.because[sp.from:sp.to] {
		list = append(list, int(b))
	}
	return list
}

// named lists the statements of the system, each once, ascending.
func (s *System) named() []int {
	list := s.why(span{0, int32(len(s.because))})
	slices.Sort(list)
	return slices.Compact(list)
}

// stuckWith returns the steps that are stuck when only the given statements hold.
func (s *System) stuckWith(statements []int) []int {
	keep := make(map[int32]bool, len(statements))
	for _, b := range statements {
		keep[int32(b)] = true
	}
	holds := func(sp span) bool {
		for _, b := range s.because[sp.from:sp.to] {
			if !keep[b] {
				return false
			}
		}
		return true
	}
	sub := New(s.n)
	for _, nd := range s.needs {
		if holds(nd.why) {
			sub.Need(int(nd.before), int(nd.after))
		}
	}
	for _, cl := range s.clauses {
		if holds(cl.why) {
			from := int32(len(sub.members))
			sub.members = append(sub.members, s.members[cl.oneOf.from:cl.oneOf.to]...)
			sub.clauses = append(sub.clauses, clause{cl.step, span{from, int32(len(sub.members))}, span{}})
		}
	}
	return sub.Stuck()
}

// maxShrinkWork bounds the constraints visited while a conflict is made small.
// Only conflicts of thousands of statements exceed it; the result may then have
// statements to spare.
const maxShrinkWork = 40_000_000

// shrink drops statements in runs of halving length until none can be dropped.
func (s *System) shrink(statements []int) []int {
	kept := slices.Clone(statements)
	work := 0
	for run := (len(kept) + 1) / 2; ; run = (run + 1) / 2 {
		for at := 0; at < len(kept); {
			if work += len(s.needs) + len(s.members) + s.n + 10*len(kept); work > maxShrinkWork {
				return kept
			}
			to := min(at+run, len(kept))
			rest := slices.Concat(kept[:at], kept[to:])
			if len(s.stuckWith(rest)) > 0 {
				kept = rest
			} else {
				at = to
			}
		}
		if run <= 1 {
			return kept
		}
	}
}
