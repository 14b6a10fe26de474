package plan

import "dryfit/plan/precedence"

// chooseRoutes chooses a route for each access past meshes, so that an order
// remains if there is one at all. allow is the relaxation of each access.
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
	off := make([]int, n) // when each was removed
	for _, v := range left {
		off[v] = n
	}
	for at, v := range taken {
		off[v] = at
	}
	for i, first := range helpers {
		for k := range r.Access[i].Routes {
			// A helper removed later cannot have released the step.
			if off[first+k] < off[r.Access[i].Step] {
				r.routes[i] = k
				break
			}
		}
	}
}

// choices returns the system in which each access past meshes may take any of its
// routes, and the first helper of each access that has a choice.
//
// Such an access needs one of its routes, and a route needs all its blockers
// removed. So the system gets one helper per route, which is removed once all its
// blockers are, and the step waits for any one of its helpers.
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
