package plan

import "dryfit/plan/precedence"

// chooseRoutes chooses for each access past meshes the route that counts, such that a
// sequence is left if there is one at all. allow is the relaxation of each access.
func (r *Constraints) chooseRoutes(allow []Relaxation) {
	r.routes = fill[int](len(r.Access))
	for i := range r.Access {
		if a := &r.Access[i]; a.Space == nil && len(a.Routes) > 0 {
			r.routes[i] = 0
		}
	}
	s, helpers := r.choices(allow)
	if len(helpers) == 0 {
		return
	}
	n := s.Len()
	rank := make([]int, n)
	for v := range rank {
		rank[v] = v
	}
	taken, left := s.Peel(rank)
	off := make([]int, n) // when each came off
	for _, v := range left {
		off[v] = n
	}
	for at, v := range taken {
		off[v] = at
	}
	for i, first := range helpers {
		for k := range r.Access[i].Routes {
			// One that came off later cannot have let the step off.
			if off[first+k] < off[r.Access[i].Step] {
				r.routes[i] = k
				break
			}
		}
	}
}

// choices is the system in which each access past meshes takes any of its routes, and
// the first helper of each that has a choice.
//
// Such an access needs one of its routes, and a route needs all its blockers to be off:
// for this the system gets a helper for each route, which comes off once all its blockers
// are off, and the step waits for one of its helpers.
func (r *Constraints) choices(allow []Relaxation) (s *precedence.System, helpers map[int]int) {
	helpers = map[int]int{}
	n := len(r.Steps)
	for i := range r.Access {
		if a := &r.Access[i]; a.Space == nil && len(a.Routes) > 1 {
			helpers[i] = n
			n += len(a.Routes)
		}
	}
	s = precedence.New(n)
	r.needs(s)
	for i := range r.Access {
		first, choice := helpers[i]
		if !choice {
			r.addClauses(s, i, allow[i])
			continue
		}
		a := &r.Access[i]
		var list []int
		for k := range a.Routes {
			for n := range a.Routes[k].Blockers {
				if b := &a.Routes[k].Blockers[n]; b.counts(allow[i]) {
					s.Clause(first+k, wide(b.Joins))
				}
			}
			list = append(list, first+k)
		}
		s.Clause(a.Step, list)
	}
	return s, helpers
}
