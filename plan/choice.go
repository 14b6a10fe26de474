package plan

import (
	"slices"

	"dryfit/plan/precedence"
)

// chooseRoutes chooses a route for each access past meshes, so that an order
// remains if there is one at all. allow is the relaxation of each access. What the clauses
// leave out is learned on the way.
func (r *Constraints) chooseRoutes(allow []Relaxation) {
	most := widest(allow)
	for {
		r.firstRoutes()
		s, helpers := r.choices(allow)
		if len(helpers) == 0 && !r.anyDoubtful(most) {
			return
		}
		taken, left := s.Peel(nil)
		steps := slices.DeleteFunc(slices.Clone(taken), func(v int) bool { return v >= len(r.Steps) })
		if r.learn(steps, most) {
			continue
		}
		if r.exact = nil; len(left) == 0 {
			r.exact = reversed(steps)
		}
		r.released(helpers, taken, left, s.Len())
		if most.Reopen {
			r.chooseOpen(helpers, steps, most)
		}
		return
	}
}

// firstRoutes chooses the first route of each access past meshes.
func (r *Constraints) firstRoutes() {
	r.routes = fill[int](len(r.Access))
	for i := range r.Access {
		if a := &r.Access[i]; a.Space == nil && len(a.Routes) > 0 {
			r.routes[i] = 0
		}
	}
}

func (r *Constraints) anyDoubtful(a Relaxation) bool {
	for v := range r.Steps {
		if r.doubtful(v, a) {
			return true
		}
	}
	return false
}

// widest is all that is allowed for some access.
func widest(allow []Relaxation) Relaxation {
	var a Relaxation
	for _, b := range allow {
		a.Turning, a.Reopen = a.Turning || b.Turning, a.Reopen || b.Reopen
	}
	return a
}

// released chooses for each access the first route whose helper was removed before the
// step.
func (r *Constraints) released(helpers map[int]int, taken, left []int, n int) {
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

// chooseOpen chooses, where joins may be opened again, the first route that is open when
// the turn of its step comes or, if none is, once as much is taken off as the step takes.
func (r *Constraints) chooseOpen(helpers map[int]int, taken []int, a Relaxation) {
	on := slices.Repeat([]bool{true}, len(r.Steps))
	for _, v := range taken {
		if on[v] = false; !r.doubtful(v, a) {
			continue
		}
		m := r.moment(on, a.Turning)
		if !m.admits(v) {
			if d := m.detour(v); d != nil {
				m = m.with(false, d.Off...)
			}
		}
		for _, i := range r.PastMeshes(v) {
			if _, choice := helpers[i]; choice {
				if k := slices.IndexFunc(r.Access[i].Routes, m.open); k >= 0 {
					r.routes[i] = k
				}
			}
		}
	}
}

// open reports whether none of the blockers of a route is in place.
func (m *moment) open(t Route) bool {
	return !slices.ContainsFunc(t.Blockers, func(b Blocker) bool {
		return !slices.ContainsFunc(b.Joins, func(v int32) bool { return !m.stands(v) })
	})
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
			r.addClauses(s, i, at(allow, i))
			continue
		}
		a := &r.Access[i]
		var list []int
		for k := range a.Routes {
			for n := range a.Routes[k].Blockers {
				if b := &a.Routes[k].Blockers[n]; b.counts(at(allow, i)) {
					s.Clause(first+k, wide(b.Joins))
				}
			}
			list = append(list, first+k)
		}
		s.Clause(a.Step, list)
	}
	return s, helpers
}
