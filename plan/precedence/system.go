// Package precedence solves AND/OR precedence on plain numbers: it orders steps
// by taking the finished work apart.
//
// A [System] has steps 0 to n-1 and two kinds of constraint:
//
//	need    a before b           a is done earlier than b (AND)
//	clause  s before one of M    at least one step of the set M is done later than s (OR)
//
// A clause with the set {j, k} is the "i before (j and k)" of T. L. De Fazio and D. E.
// Whitney, "Simplified generation of all mechanical assembly sequences", IEEE Journal of
// Robotics and Automation 3 (1987): i must be done before j and k are both done.
//
// In reverse both kinds are monotone: once a step has been removed, it never stops
// another from being removed. So removing steps from the last to the first, in any order,
// never needs backtracking, and where it gets stuck there is no valid order at all (the
// argument of R. H. Moehring, M. Skutella and F. Stork, "Scheduling with AND/OR
// precedence constraints", SIAM Journal on Computing 33, 2004, with time reversed). This peeling is Kahn's algorithm with a counter for each need and clause;
// one pass is linear in the size of the constraints.
//
// All results are deterministic: ties go to the step with the greater rank, then
// to the greater number.
package precedence

import "sync"

// System is a set of steps and the constraints between them. The zero value has
// no steps; use [New]. A System is not safe for concurrent use while constraints
// are being added; afterwards any number of goroutines may read it. Step numbers
// outside 0 to n-1 panic.
type System struct {
	n       int
	needs   []need
	clauses []clause
	members []int32 // of all clauses, one after the other
	because []int32 // statement numbers of all constraints, likewise

	compiling sync.Mutex
	graph     *graph // compiled on first use, dropped when a constraint is added
}

type need struct {
	before, after int32
	why           span
}

type clause struct {
	step  int32
	oneOf span
	why   span
}

// span is a range of one of the shared arrays of a System.
type span struct{ from, to int32 }

// New returns a system of n steps without constraints.
func New(n int) *System { return &System{n: n} }

// Len is the number of steps.
func (s *System) Len() int { return s.n }

// size is the number of steps and constraints: the work of one pass.
func (s *System) size() int { return s.n + len(s.needs) + len(s.members) }

// Need requires before to be done earlier than after. The numbers in because
// identify the statements that the need rests on: without any one of them it
// would not hold. Only [System.Conflict] uses them.
func (s *System) Need(before, after int, because ...int) {
	s.needs = append(s.needs, need{int32(before), int32(after), s.statements(because)})
	s.graph = nil
}

// Clause requires at least one step of oneOf to be done later than step. An empty
// set can never be met. See [System.Need] for because.
func (s *System) Clause(step int, oneOf []int, because ...int) {
	from := int32(len(s.members))
	for _, m := range oneOf {
		s.members = append(s.members, int32(m))
	}
	s.clauses = append(s.clauses, clause{int32(step), span{from, int32(len(s.members))}, s.statements(because)})
	s.graph = nil
}

func (s *System) statements(list []int) span {
	from := int32(len(s.because))
	for _, b := range list {
		s.because = append(s.because, int32(b))
	}
	return span{from, int32(len(s.because))}
}

// graph is a System laid out for peeling: for each step, what its removal frees.
type graph struct {
	first  []int32      // step -> stretch of before
	before []int32      // the steps that a step needs before itself
	opens  []int32      // step -> stretch of clause
	clause []int32      // the clauses a step is a member of
	later  []int32      // step -> number of steps that need it before themselves
	unmet  []int32      // step -> number of its clauses
	stuck  func() []int // what no order removes
}

// frees lists what the removal of a step brings nearer to its own: the steps that it needs,
// and the clauses that it is a member of.
func (g *graph) frees(v int32) (before, clauses []int32) {
	return g.before[g.first[v]:g.first[v+1]], g.clause[g.opens[v]:g.opens[v+1]]
}

func (s *System) compiled() *graph {
	s.compiling.Lock()
	defer s.compiling.Unlock()
	if s.graph == nil {
		s.graph = s.compile()
	}
	return s.graph
}

func (s *System) compile() *graph {
	g := &graph{later: make([]int32, s.n), unmet: make([]int32, s.n)}
	g.first, g.before = rows(s.n, len(s.needs), func(i int) (row, value int32) {
		return s.needs[i].after, s.needs[i].before
	})
	for _, nd := range s.needs {
		g.later[nd.before]++
	}
	owner := make([]int32, len(s.members))
	for c, cl := range s.clauses {
		g.unmet[cl.step]++
		for i := cl.oneOf.from; i < cl.oneOf.to; i++ {
			owner[i] = int32(c)
		}
	}
	g.opens, g.clause = rows(s.n, len(s.members), func(i int) (row, value int32) {
		return s.members[i], owner[i]
	})
	g.stuck = sync.OnceValue(func() []int {
		p := newPeeling(s)
		p.all()
		return p.remaining()
	})
	return g
}

// rows groups pairs (row, value) by row: the values of row r are
// values[start[r]:start[r+1]], in the given order.
func rows(n, pairs int, pair func(i int) (row, value int32)) (start, values []int32) {
	start = make([]int32, n+1)
	values = make([]int32, pairs)
	for i := range pairs {
		r, _ := pair(i)
		start[r+1]++
	}
	for r := range n {
		start[r+1] += start[r]
	}
	next := append([]int32(nil), start[:n]...)
	for i := range pairs {
		r, v := pair(i)
		values[next[r]] = v
		next[r]++
	}
	return start, values
}
