package precedence_test

import (
	"fmt"
	"math/rand"
	"testing"

	"dryfit/plan/precedence"
)

// load is a system to be built: needs as pairs, clauses with the step in front.
type load struct {
	n       int
	needs   [][2]int
	clauses [][]int
}

// newLoad draws five needs and one clause a step, from steps near by and from far
// away in equal parts. The sequence of the numbers is a valid order.
func newLoad(n int) load {
	r := rand.New(rand.NewSource(int64(n)))
	later := func(v int) int {
		if r.Intn(2) == 0 {
			return v + 1 + r.Intn(min(20, n-1-v))
		}
		return v + 1 + r.Intn(n-1-v)
	}
	l := load{n: n}
	for range 5 * n {
		v := r.Intn(n - 1)
		l.needs = append(l.needs, [2]int{v, later(v)})
	}
	for range n {
		v := r.Intn(n - 1)
		clause := []int{v}
		for range 1 + r.Intn(4) {
			clause = append(clause, later(v))
		}
		l.clauses = append(l.clauses, clause)
	}
	return l
}

// build makes the system; each constraint rests on a statement of its own.
func (l load) build() *precedence.System {
	s := precedence.New(l.n)
	for i, nd := range l.needs {
		s.Need(nd[0], nd[1], i)
	}
	for i, cl := range l.clauses {
		s.Clause(cl[0], cl[1:], len(l.needs)+i)
	}
	return s
}

func solve(b *testing.B, s *precedence.System) {
	if order, stuck := s.Order(nil); order == nil {
		b.Fatalf("%d steps are stuck", len(stuck))
	}
}

// BenchmarkOrder solves 100,000 steps with 500,000 needs and 100,000 clauses.
func BenchmarkOrder(b *testing.B) {
	l := newLoad(100_000)
	b.Run("build and solve", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			solve(b, l.build())
		}
	})
	b.Run("solve", func(b *testing.B) {
		s := l.build()
		solve(b, s) // lays the constraints out, once for all passes
		b.ReportAllocs()
		for b.Loop() {
			solve(b, s)
		}
	})
}

// BenchmarkOrderPerStep shows how the time grows with the number of steps.
func BenchmarkOrderPerStep(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		l := newLoad(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				solve(b, l.build())
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/step")
		})
	}
}

// BenchmarkFreedom reports, too, how many latest places were left as bounds.
func BenchmarkFreedom(b *testing.B) {
	for _, n := range []int{134, 1_000} {
		for _, effort := range []int{0, 100} {
			s := newLoad(n).build()
			b.Run(fmt.Sprintf("%d steps, effort %d", n, effort), func(b *testing.B) {
				bounds := 0
				for b.Loop() {
					bounds = 0
					for _, bound := range s.Freedom(effort).Bound {
						if bound {
							bounds++
						}
					}
				}
				b.ReportMetric(float64(bounds), "bounds")
			})
		}
	}
}

// BenchmarkConflict explains a stuck system of 1,000 steps: ten needs that point
// backwards have been added to one that could be solved.
func BenchmarkConflict(b *testing.B) {
	l := newLoad(1_000)
	r := rand.New(rand.NewSource(1))
	for range 10 {
		v := r.Intn(l.n - 100)
		l.needs = append(l.needs, [2]int{v + 100, v})
	}
	s := l.build()
	roots := s.Roots()
	if len(roots) == 0 {
		b.Fatal("the system is not stuck")
	}
	steps, kept := 0, 0
	for b.Loop() {
		steps, kept = 0, 0
		for _, root := range s.Roots() {
			steps += len(root.Steps)
			kept += len(s.Conflict(root))
		}
	}
	b.ReportMetric(float64(len(roots)), "roots")
	b.ReportMetric(float64(steps), "rootsteps")
	b.ReportMetric(float64(kept), "statements")
}
