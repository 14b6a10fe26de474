package plan

import "dryfit/plan/precedence"

// Allowance is what an order may ask of the builder to get a piece into a space.
type Allowance struct {
	Turning bool // turn a piece on its way through an opening
	Reopen  bool // undo a join that opens, and make it again
}

// allowances lists what is tried, in turn: an order with straight ways alone is
// looked for first.
var allowances = []Allowance{{}, {Reopen: true}, {Turning: true}, {Turning: true, Reopen: true}}

// Solution is the outcome of the rules under one allowance.
type Solution struct {
	Constraints *Constraints
	Allowance   Allowance
	// System has all valid orders under the allowance.
	System *precedence.System
	// Narrow has those of them in which as few entries as possible use the allowance.
	Narrow *precedence.System
	Stuck  []int // empty if there is an order

	allow []Allowance // of each entry, in Narrow
	stamp []int       // scratch of clauseOf
	mark  int
}

// clauseOf lists the joins of which one must come after an entry's step, or reports
// that a way is always open, under the allowance of the solution.
func (s *Solution) clauseOf(e *Entry) (oneOf []int, open bool) {
	if s.stamp == nil {
		s.stamp = make([]int, len(s.Constraints.Steps))
	}
	s.mark++
	return e.clause(s.Allowance, s.stamp, s.mark)
}

// Solve looks for orders, with the least allowance that gives one, or else with
// all that is allowed.
func (r *Constraints) Solve() *Solution {
	s := r.solve()
	s.narrow()
	return s
}

// solve is Solve without the narrow system.
func (r *Constraints) solve() *Solution {
	var s *Solution
	for i, a := range allowances {
		if i > 0 && !r.differs(allowances[i-1], a) {
			continue
		}
		r.reopen = a.Reopen
		r.chooseRoutes(r.all(a))
		s = &Solution{Constraints: r, Allowance: a, System: r.system(r.all(a))}
		if s.Stuck = s.System.Stuck(); len(s.Stuck) == 0 {
			break
		}
	}
	return s
}

// differs reports whether two allowances give different clauses.
func (r *Constraints) differs(a, b Allowance) bool {
	for i := range r.Entries {
		if r.entryDiffers(&r.Entries[i], a, b) {
			return true
		}
	}
	for i := range r.Travels {
		for k := range r.Travels[i].Routes {
			for _, h := range r.Travels[i].Routes[k].Hindrances {
				if a.Reopen != b.Reopen && h.reopens {
					return true
				}
			}
		}
	}
	return false
}

func (r *Constraints) entryDiffers(e *Entry, a, b Allowance) bool {
	for i := range e.Ways {
		w := &e.Ways[i]
		if w.allowed(a) != w.allowed(b) || a.Reopen != b.Reopen && len(w.Reopens) > 0 && w.allowed(b) {
			return true
		}
	}
	return false
}

func (w *Way) allowed(a Allowance) bool {
	return w.Pass != Cannot && (w.Pass != ByTurning || a.Turning)
}

// all gives every entry the same allowance.
func (r *Constraints) all(a Allowance) []Allowance {
	list := make([]Allowance, len(r.Entries))
	for i := range list {
		list[i] = a
	}
	return list
}

// system turns the rules into needs and clauses on plain numbers. allow has an
// allowance for each entry.
func (r *Constraints) system(allow []Allowance) *precedence.System {
	s := precedence.New(len(r.Steps))
	r.fill(s, allow)
	if r.routes == nil {
		r.chooseRoutes(allow)
	}
	r.routeClauses(s)
	return s
}

// fill adds all needs and the clauses of the entries.
func (r *Constraints) fill(s *precedence.System, allow []Allowance) {
	for _, n := range r.Needs {
		s.Need(n.Before, n.After, n.Statement)
	}
	stamp := make([]int, len(r.Steps))
	for i := range r.Entries {
		e := &r.Entries[i]
		if e.unreachable() {
			continue // a finding of its own; no order could mend it
		}
		if oneOf, open := e.clause(allow[i], stamp, i+1); !open {
			s.Clause(e.Step, oneOf, e.Statement)
		}
	}
}

// clause lists the joins of which one must come after the entry's step, or reports
// that a way is always open. stamp is scratch, marked with mark.
func (e *Entry) clause(a Allowance, stamp []int, mark int) (oneOf []int, open bool) {
	for i := range e.Ways {
		w := &e.Ways[i]
		if !w.allowed(a) {
			continue
		}
		if w.Open || a.Reopen && len(w.Reopens) > 0 {
			return nil, true
		}
		for _, s := range w.Shut {
			if stamp[s] != mark {
				stamp[s] = mark
				oneOf = append(oneOf, int(s))
			}
		}
	}
	return oneOf, false
}

// maxNarrowing bounds the work of trying entries with less than the allowance, in
// steps and conditions looked at. Entries beyond it keep the allowance.
const maxNarrowing = 4_000_000

// narrow takes the allowance back from each entry, in turn, where an order is left.
func (s *Solution) narrow() {
	s.Narrow = s.System
	s.allow = s.Constraints.all(s.Allowance)
	if len(s.Stuck) > 0 || s.Allowance == (Allowance{}) {
		return
	}
	allow := s.allow
	work := 0
	for i := range allow {
		for _, less := range allowances {
			if less == s.Allowance || !s.Constraints.entryDiffers(&s.Constraints.Entries[i], less, s.Allowance) {
				break
			}
			if less.Reopen && !s.Allowance.Reopen {
				continue
			}
			if work += len(s.Constraints.Steps) + s.Constraints.conditions; work > maxNarrowing {
				break
			}
			allow[i] = less
			if s.Constraints.system(allow).Solvable() {
				break
			}
			allow[i] = s.Allowance
		}
	}
	s.Narrow = s.Constraints.system(allow)
}
