package plan

import "slices"

// improve lowers the cost of an order. Leaf steps take no part in the search:
// each is inserted afterwards on its own, so that one can be added to a kit
// without moving any other.
func (s *Solution) improve(c *coster, order []int) []int {
	m := s.improver(c)
	leaves := c.r.leaves()
	for _, n := range leaves.needs(c.r) {
		m.need.set(n.Before, n.After)
	}
	free := m.free(leaves)
	for _, v := range order {
		if !free[v] {
			m.at[v] = len(m.seq)
			m.seq = append(m.seq, v)
		}
	}
	m.run()
	return m.putBack(order, free, leaves)
}

func (s *Solution) improver(c *coster) *improver {
	r := s.Constraints
	n := len(r.Steps)
	m := &improver{c: c, at: fill[int](n), need: newBits(n), own: make([][]int, n), member: make([][]int, n)}
	for _, nd := range r.Needs {
		m.need.set(nd.Before, nd.After)
	}
	s.clauses(m.clause)
	return m
}

// clauses reports all clauses of the narrow system: a step, and joins at least
// one of which comes after it.
func (s *Solution) clauses(report func(step int, oneOf []int)) {
	for i := range s.Constraints.Access {
		s.Constraints.EachClause(i, at(s.Relaxed, i), func(oneOf []int, _ int) {
			report(s.Constraints.Access[i].Step, oneOf)
		})
	}
}

// clause keeps a step before at least one of several others.
func (m *improver) clause(step int, oneOf []int) {
	number := len(m.clauses)
	m.clauses, m.owner = append(m.clauses, oneOf), append(m.owner, step)
	m.own[step] = append(m.own[step], number)
	for _, w := range oneOf {
		m.member[w] = append(m.member[w], number)
	}
}

// free marks the leaf steps that neither the clauses of the order nor the joins
// of sub-builds constrain.
func (m *improver) free(l *leaves) []bool {
	free := slices.Clone(l.leaf)
	for v := range free {
		free[v] = free[v] && len(m.own[v]) == 0 && len(m.member[v]) == 0 && m.c.joins[v] == 0
	}
	return free
}

// putBack returns the improved sequence with the free steps inserted again. Each
// goes into the slot where it costs least among the steps that are not free; the
// order within a slot depends on each step alone.
func (m *improver) putBack(order []int, free []bool, l *leaves) []int {
	slot := make([]int, len(order)) // a step of slot i comes before seq[i]
	for i, v := range m.seq {
		slot[v] = i + 1
	}
	behind := make([][]int, len(m.seq)+1)
	for i, v := range order {
		if !free[v] {
			continue
		}
		first := 0
		for _, w := range order[:i] {
			if m.need.has(w, v) {
				first = max(first, slot[w])
			}
		}
		last := len(m.seq)
		for _, c := range l.coats[v] {
			last = min(last, slot[c]-1)
		}
		slot[v] = m.bestSlot(v, first, last)
		behind[slot[v]] = append(behind[slot[v]], v)
	}
	var list []int
	for i, steps := range behind {
		list = append(list, m.lineUp(steps, m.step(i-1), m.step(i))...)
		if i < len(m.seq) {
			list = append(list, m.seq[i])
		}
	}
	return list
}

// bestSlot is the slot, from first to last, in which v costs least. Among equals
// it is the last, since nothing depends on v.
func (m *improver) bestSlot(v, first, last int) int {
	pairs := 0.0 // of v coming before seq[k:], compared with slot first
	best, bestCost := first, 0.0
	for k := first; k <= last; k++ {
		l, r := m.step(k-1), m.step(k)
		cost := pairs + m.c.neighbourCost(l, v)
		if r >= 0 {
			cost += m.c.neighbourCost(v, r) - m.c.neighbourCost(l, r)
		}
		if k == first || cost <= bestCost+1e-9 {
			best, bestCost = k, cost
		}
		if r >= 0 {
			pairs += m.c.pairCost(r, v) - m.c.pairCost(v, r)
		}
	}
	return best
}

// lineUp orders the free steps between l and r. Among those whose needs are met
// it takes those of the build of l first and of r last, then what is fitted from
// the same side as l, then fragile ones last, then what uses the same fixing,
// then file order.
func (m *improver) lineUp(steps []int, l, r int) []int {
	keys := map[int][]int{}
	for _, v := range steps {
		keys[v] = m.lineKey(v, l, r)
	}
	var list []int
	placed := map[int]bool{}
	for len(list) < len(steps) {
		next := -1
		for _, v := range steps {
			if placed[v] || slices.ContainsFunc(steps, func(w int) bool { return m.need.has(w, v) && !placed[w] }) {
				continue
			}
			if next < 0 || slices.Compare(keys[v], keys[next]) < 0 {
				next = v
			}
		}
		placed[next] = true
		list = append(list, next)
	}
	return list
}

func (m *improver) lineKey(v, l, r int) []int {
	c := m.c
	yes := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	build, side, fixing := 1, int(c.under[v]), int(c.fix[v])
	if r >= 0 && c.b.of[v] == c.b.of[r] {
		build = 2
	}
	if l >= 0 {
		if c.b.of[v] == c.b.of[l] {
			build = 0
		}
		if c.under[l] > 0 {
			side = -side
		}
		if c.fix[v] == c.fix[l] {
			fixing = 0
		}
	}
	return []int{build, c.b.of[v], side, yes(c.late[v]), fixing, c.rank[v]}
}
