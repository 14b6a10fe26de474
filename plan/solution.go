package plan

import (
	"slices"

	"dryfit/plan/precedence"
)

// relaxations lists what is tried, in turn: first an order with straight ways in
// alone.
var relaxations = []Relaxation{{}, {Reopen: true}, {Turning: true}, {Turning: true, Reopen: true}}

// Solution is the result of solving the constraints under one relaxation.
type Solution struct {
	Constraints *Constraints
	Relaxation  Relaxation
	// System has all valid orders under the relaxation.
	System *precedence.System
	// Narrow has those in which as few accesses as possible use the relaxation.
	Narrow *precedence.System
	Stuck  []int // empty if there is an order

	Relaxed []Relaxation // of each access, in Narrow
}

// Solve looks for orders with the least relaxation that gives one, or with the
// full relaxation if none does.
func (r *Constraints) Solve() *Solution {
	s := r.Outcome()
	s.narrow()
	return s
}

// Outcome is Solve without the narrow system.
func (r *Constraints) Outcome() *Solution {
	if r.outcome == nil {
		r.outcome = r.solved()
	}
	return r.outcome
}

func (r *Constraints) solved() *Solution {
	var s *Solution
	for i, a := range relaxations {
		if i > 0 && !r.differs(relaxations[i-1], a) {
			continue
		}
		r.forget()
		r.asked, r.gaveUp = 0, false
		r.chooseRoutes(r.all(a))
		s = &Solution{Constraints: r, Relaxation: a, System: r.System(r.all(a))}
		if s.Stuck = s.System.Stuck(); len(s.Stuck) == 0 {
			break
		}
	}
	return s
}

// differs reports whether two relaxations give different clauses.
func (r *Constraints) differs(a, b Relaxation) bool {
	return slices.ContainsFunc(r.Access, func(x Access) bool { return x.differs(a, b) })
}

// all gives every access the same relaxation.
func (r *Constraints) all(a Relaxation) []Relaxation {
	return slices.Repeat([]Relaxation{a}, len(r.Access))
}

// System turns the constraints into needs and clauses on plain numbers. allow
// holds the relaxation of each access.
func (r *Constraints) System(allow []Relaxation) *precedence.System {
	if r.routes == nil {
		r.chooseRoutes(allow)
	}
	s := precedence.New(len(r.Steps))
	r.needs(s)
	for i := range r.Access {
		r.addClauses(s, i, at(allow, i))
	}
	return s
}

// at is the relaxation of an access; for what was learned since, all that any has.
func at(allow []Relaxation, i int) Relaxation {
	if i < len(allow) {
		return allow[i]
	}
	return widest(allow)
}

func (r *Constraints) needs(s *precedence.System) {
	for _, n := range r.Needs {
		s.Need(n.Before, n.After, n.Statement)
	}
}

func (r *Constraints) addClauses(s *precedence.System, i int, allow Relaxation) {
	r.EachClause(i, allow, func(oneOf []int, statement int) {
		s.Clause(r.Access[i].Step, oneOf, statement)
	})
}

// maxNarrowing bounds the work of trying accesses without the relaxation, in
// steps and conditions visited. Those beyond it keep the relaxation.
const maxNarrowing = 4_000_000

// narrow withdraws the relaxation from each access into a space, one after the
// other, as long as an order remains.
func (s *Solution) narrow() {
	s.Narrow = s.System
	s.Relaxed = s.Constraints.all(s.Relaxation)
	if len(s.Stuck) > 0 || s.Relaxation == (Relaxation{}) {
		return
	}
	allow := s.Relaxed
	work := 0
	for i := range allow {
		a := &s.Constraints.Access[i]
		for _, less := range relaxations {
			if less == s.Relaxation || a.Space == nil || !a.differs(less, s.Relaxation) {
				break
			}
			if less.Reopen && !s.Relaxation.Reopen {
				continue
			}
			if work += len(s.Constraints.Steps) + s.Constraints.Conditions; work > maxNarrowing {
				break
			}
			allow[i] = less
			if s.Constraints.System(allow).Solvable() {
				break
			}
			allow[i] = s.Relaxation
		}
	}
	s.Narrow = s.Constraints.System(allow)
}
