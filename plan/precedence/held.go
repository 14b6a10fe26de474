package precedence

import "slices"

// holding finds what cannot be removed while one step stays. Only what waits for that step,
// directly or through others, can be held back by it: all else is removed as ever. So a
// pass looks at these steps alone; mostly they are few.
type holding struct {
	sys    *System
	g      *graph
	held   []bool  // what stays: the step, and what is never removed
	behind []bool  // steps that wait, and those that are held
	list   []int32 // the same, in the order in which they were found
	later  []int32 // step -> those behind that need it
	unmet  []int32 // step -> its clauses with all members behind
	inside []int32 // clause -> its members behind
}

func newHolding(s *System) *holding {
	h := &holding{
		sys: s, g: s.compiled(), held: make([]bool, s.n), behind: make([]bool, s.n),
		later: make([]int32, s.n), unmet: make([]int32, s.n), inside: make([]int32, len(s.clauses)),
	}
	for _, v := range h.g.stuck() {
		h.held[v] = true
	}
	return h
}

// before lists the steps that cannot be removed while v stays, ascending, without v.
func (h *holding) before(v int) []int {
	was := h.held[v]
	h.held[v] = true
	h.wait(int32(v))
	for _, w := range h.g.stuck() {
		h.wait(int32(w))
	}
	h.follow()
	h.peel()
	var remaining []int
	for _, w := range h.list {
		if h.behind[w] && int(w) != v {
			remaining = append(remaining, int(w))
		}
	}
	h.reset()
	h.held[v] = was
	slices.Sort(remaining)
	return remaining
}

// reset makes it ready for another step.
func (h *holding) reset() {
	for _, w := range h.list {
		h.behind[w], h.later[w], h.unmet[w] = false, 0, 0
		_, clauses := h.g.frees(w)
		for _, c := range clauses {
			h.inside[c] = 0
		}
	}
	h.list = h.list[:0]
}

func (h *holding) wait(v int32) {
	if !h.behind[v] {
		h.behind[v] = true
		h.list = append(h.list, v)
	}
}

// follow finds all that waits for what is behind.
func (h *holding) follow() {
	for n := 0; n < len(h.list); n++ {
		before, clauses := h.g.frees(h.list[n])
		for _, w := range before {
			h.later[w]++
			h.wait(w)
		}
		for _, c := range clauses {
			cl := h.sys.clauses[c]
			if h.inside[c]++; h.inside[c] == cl.oneOf.to-cl.oneOf.from {
				h.unmet[cl.step]++
			}
			h.wait(cl.step)
		}
	}
}

// peel removes what can be removed all the same.
func (h *holding) peel() {
	var queue []int32
	remove := func(w int32) {
		if h.behind[w] && !h.held[w] && h.later[w] == 0 && h.unmet[w] == 0 {
			h.behind[w] = false
			queue = append(queue, w)
		}
	}
	for _, w := range h.list {
		remove(w)
	}
	for len(queue) > 0 {
		before, clauses := h.g.frees(queue[len(queue)-1])
		queue = queue[:len(queue)-1]
		for _, w := range before {
			h.later[w]--
			remove(w)
		}
		for _, c := range clauses {
			cl := h.sys.clauses[c]
			if h.inside[c]--; h.inside[c] == cl.oneOf.to-cl.oneOf.from-1 {
				h.unmet[cl.step]--
				remove(cl.step)
			}
		}
	}
}
