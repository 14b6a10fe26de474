package precedence

// After is the system of the remaining steps once some are done. A done step has
// no constraints any more, so it never counts as stuck. What should have come
// before a done step and did not is free to come later; what has to come before
// one of several steps has to come before one of those that are not done.
func (s *System) After(done []bool) *System {
	remaining := New(s.n)
	for _, nd := range s.needs {
		if !done[nd.before] && !done[nd.after] {
			remaining.Need(int(nd.before), int(nd.after), s.why(nd.why)...)
		}
	}
	for _, cl := range s.clauses {
		if done[cl.step] {
			continue
		}
		var oneOf []int
		for _, m := range s.members[cl.oneOf.from:cl.oneOf.to] {
			if !done[m] {
				oneOf = append(oneOf, int(m))
			}
		}
		remaining.Clause(int(cl.step), oneOf, s.why(cl.why)...)
	}
	return remaining
}

// Ready lists the steps that are not done while all that they need is, ascending.
func (s *System) Ready(done []bool) []int {
	waits := make([]bool, s.n)
	for _, nd := range s.needs {
		waits[nd.after] = waits[nd.after] || !done[nd.before]
	}
	var list []int
	for v := range s.n {
		if !done[v] && !waits[v] {
			list = append(list, v)
		}
	}
	return list
}

// Pairs lists steps, each the first of a pair before the second, such that every
// order of the given steps that respects them is valid: the needs and, for each
// clause, its step and the member that comes last in the order. The order is a
// valid one of these steps; constraints on others are left out.
func (s *System) Pairs(order []int) [][2]int {
	place := make([]int, s.n) // from 1; 0 for steps that are not in the order
	for i, v := range order {
		place[v] = i + 1
	}
	var list [][2]int
	for _, nd := range s.needs {
		if place[nd.before] > 0 && place[nd.after] > 0 {
			list = append(list, [2]int{int(nd.before), int(nd.after)})
		}
	}
	for _, cl := range s.clauses {
		last := cl.step
		for _, m := range s.members[cl.oneOf.from:cl.oneOf.to] {
			if place[m] > place[last] {
				last = m
			}
		}
		if place[cl.step] > 0 && last != cl.step {
			list = append(list, [2]int{int(cl.step), int(last)})
		}
	}
	return list
}
