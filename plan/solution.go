package plan

import (
	"slices"

	"dryfit/plan/precedence"
)

// allowances lists what is tried, in turn: an order with straight ways alone is
// looked for first.
var allowances = []Allowance{{}, {Reopen: true}, {Turning: true}, {Turning: true, Reopen: true}}

// Solution is the outcome of the rules under one allowance.
type Solution struct {
	Constraints *Constraints
	Allowance   Allowance
	// System has all valid orders under the allowance.
	System *precedence.System
	// Narrow has those of them in which as few accesses as possible use the allowance.
	Narrow *precedence.System
	Stuck  []int // empty if there is an order

	Allow []Allowance // of each access, in Narrow
}

// Solve looks for orders, with the least allowance that gives one, or else with
// all that is allowed.
func (r *Constraints) Solve() *Solution {
	s := r.Outcome()
	s.narrow()
	return s
}

// solve is Solve without the narrow system.
func (r *Constraints) Outcome() *Solution {
	var s *Solution
	for i, a := range allowances {
		if i > 0 && !r.differs(allowances[i-1], a) {
			continue
		}
		r.chooseRoutes(r.all(a))
		s = &Solution{Constraints: r, Allowance: a, System: r.System(r.all(a))}
		if s.Stuck = s.System.Stuck(); len(s.Stuck) == 0 {
			break
		}
	}
	return s
}

// differs reports whether two allowances give different clauses.
func (r *Constraints) differs(a, b Allowance) bool {
	return slices.ContainsFunc(r.Access, func(x Access) bool { return x.differs(a, b) })
}

// all gives every access the same allowance.
func (r *Constraints) all(a Allowance) []Allowance {
	return slices.Repeat([]Allowance{a}, len(r.Access))
}

// system turns the constraints into needs and clauses on plain numbers. allow has an
// allowance for each access.
func (r *Constraints) System(allow []Allowance) *precedence.System {
	if r.routes == nil {
		r.chooseRoutes(allow)
	}
	s := precedence.New(len(r.Steps))
	r.needs(s)
	for i := range r.Access {
		r.addClauses(s, i, allow[i])
	}
	return s
}

func (r *Constraints) needs(s *precedence.System) {
	for _, n := range r.Needs {
		s.Need(n.Before, n.After, n.Statement)
	}
}

func (r *Constraints) addClauses(s *precedence.System, i int, allow Allowance) {
	r.EachClause(i, allow, func(oneOf []int, statement int) {
		s.Clause(r.Access[i].Step, oneOf, statement)
	})
}

// maxNarrowing bounds the work of trying accesses with less than the allowance, in
// steps and conditions looked at. Those beyond it keep the allowance.
const maxNarrowing = 4_000_000

// narrow takes the allowance back from each access into a space, one after the other,
// where a sequence is left.
func (s *Solution) narrow() {
	s.Narrow = s.System
	s.Allow = s.Constraints.all(s.Allowance)
	if len(s.Stuck) > 0 || s.Allowance == (Allowance{}) {
		return
	}
	allow := s.Allow
	work := 0
	for i := range allow {
		a := &s.Constraints.Access[i]
		for _, less := range allowances {
			if less == s.Allowance || a.Space == nil || !a.differs(less, s.Allowance) {
				break
			}
			if less.Reopen && !s.Allowance.Reopen {
				continue
			}
			if work += len(s.Constraints.Steps) + s.Constraints.Conditions; work > maxNarrowing {
				break
			}
			allow[i] = less
			if s.Constraints.System(allow).Solvable() {
				break
			}
			allow[i] = s.Allowance
		}
	}
	s.Narrow = s.Constraints.System(allow)
}
