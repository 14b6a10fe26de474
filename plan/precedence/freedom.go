package precedence

import (
	"slices"

	"dryfit/plan/bitset"
)

// Freedom is the range of places of each step in the valid orders of a system.
type Freedom struct {
	Earliest []int        // smallest place of each step, from 1; exact unless Loose
	Latest   []int        // greatest place of each step; exact unless Bound
	Bound    []bool       // Latest is only an upper bound
	Loose    bool         // there are conditions beside the system, so that Earliest is only a lower bound
	before   []bitset.Set // before[v]: the steps that precede v in every valid order
	after    []bitset.Set
}

// Loosen says that there are conditions beside those of the system: all places are bounds.
func (f *Freedom) Loosen() {
	f.Loose = true
	for v := range f.Bound {
		f.Bound[v] = true
	}
}

// Before lists the steps that precede v in every valid order, ascending.
func (f *Freedom) Before(v int) []int { return f.before[v].List() }

// After lists the steps that follow v in every valid order, ascending.
func (f *Freedom) After(v int) []int { return f.after[v].List() }

// Before lists the steps that precede v in every valid order of a solvable
// system, ascending. For any other system it lists the steps that
// cannot be removed while v stays, including those that are stuck.
func (s *System) Before(v int) []int {
	g := s.compiled()
	if before, clauses := g.frees(int32(v)); len(before)+len(clauses) == 0 {
		// Nothing waits for it to be removed, so what remains is what always does.
		return slices.DeleteFunc(slices.Clone(g.stuck()), func(w int) bool { return w == v })
	}
	return newHolding(s).before(v)
}

// Freedom computes the freedom of every step of a solvable system.
//
// Earliest is exact: remove all that can be removed while v stays; what remains
// precedes v in every order. Latest asks for the smallest set of steps that must
// be removed before v can be. That is hard in general because of the clauses. It
// is exact where the steps that always follow v suffice to free it, or where a
// search of at most effort restricted passes finds the smallest set; otherwise,
// and once all searches together have visited maxSearchWork constraints, the
// bound from the steps that always follow is returned. Time is n passes over what waits
// for each step.
func (s *System) Freedom(effort int) *Freedom {
	f := &Freedom{
		Earliest: make([]int, s.n), Latest: make([]int, s.n), Bound: make([]bool, s.n),
		before: sets(s.n), after: sets(s.n),
	}
	h := newHolding(s)
	for v := range s.n {
		for _, w := range h.before(v) {
			f.before[v].Add(w)
			f.after[w].Add(v)
		}
		f.Earliest[v] = f.before[v].Len() + 1
	}
	search := &search{p: newPeeling(s), effort: effort, left: maxSearchWork}
	for v := range s.n {
		size, exact := search.smallest(v, f.after[v])
		f.Latest[v], f.Bound[v] = s.n-size, !exact
	}
	return f
}

// maxSearchWork bounds the constraints that the searches for all steps visit.
const maxSearchWork = 30_000_000

// search finds the smallest set of steps whose removal frees a step.
type search struct {
	p      *peeling
	effort int // restricted passes allowed for one step
	left   int // constraints that may still be visited
}

// smallest returns the size of the smallest set that frees v and true, or a
// proven lower bound of that size and false.
func (s *search) smallest(v int, needed bitset.Set) (size int, exact bool) {
	if s.opens(v, needed) {
		return needed.Len(), true
	}
	// Best first: all sets of a size are tried before any larger one.
	waiting := map[int][]bitset.Set{needed.Len(): {needed}}
	seen := map[string]bool{needed.Key(): true}
	passes := 1
	for size := needed.Len(); size < s.p.sys.n; size++ {
		for len(waiting[size]) > 0 {
			u := waiting[size][0]
			waiting[size] = waiting[size][1:]
			if passes++; passes > s.effort || s.left < 0 {
				// Every set smaller than this size has been ruled out.
				return size, false
			}
			if s.opens(v, u) {
				return size, true
			}
			for _, more := range s.larger(v, u) {
				if !seen[more.Key()] {
					seen[more.Key()] = true
					waiting[more.Len()] = append(waiting[more.Len()], more)
				}
			}
		}
	}
	return needed.Len(), false
}

// opens reports whether v can be removed when only the steps of u are removed before it.
func (s *search) opens(v int, u bitset.Set) bool {
	s.left -= s.p.sys.size()
	s.p.reset()
	s.p.drain(append(u.List(), v), func(w int32) bool { return int(w) == v || u.Has(int(w)) })
	return s.p.gone[v]
}

// larger returns the sets that extend u by what some stuck step of u, or v, still
// waits for. The first step outside u of any larger solution is among them. It
// reads the state that opens has just left.
func (s *search) larger(v int, u bitset.Set) []bitset.Set {
	p, sys := s.p, s.p.sys
	s.left -= sys.size()
	inside, tried := slices.Clone(u), make(bitset.Set, len(u))
	inside.Add(v)
	var list []bitset.Set
	grow := func(w int32) {
		if !inside.Has(int(w)) && !tried.Has(int(w)) {
			tried.Add(int(w))
			s.left -= len(u)
			more := slices.Clone(u)
			more.Add(int(w))
			list = append(list, more)
		}
	}
	for _, nd := range sys.needs {
		if inside.Has(int(nd.before)) && !p.gone[nd.before] && !p.gone[nd.after] {
			grow(nd.after)
		}
	}
	for c, cl := range sys.clauses {
		if inside.Has(int(cl.step)) && !p.gone[cl.step] && !p.met[c] {
			for _, m := range sys.members[cl.oneOf.from:cl.oneOf.to] {
				grow(m)
			}
		}
	}
	return list
}

func sets(n int) []bitset.Set {
	list := make([]bitset.Set, n)
	for i := range list {
		list[i] = bitset.New(n)
	}
	return list
}
