package plan

import (
	"slices"

	"dryfit/plan/precedence"
)

// chooseRoutes chooses for each travel the route that counts, such that an order is
// left if there is one at all. allow is the allowance of each entry.
func (r *Constraints) chooseRoutes(allow []Allowance) {
	if len(r.Travels) == 0 {
		return
	}
	r.routes = fill[int](len(r.Travels))
	for i := range r.Travels {
		if len(r.Travels[i].Routes) > 0 {
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
		for k := range r.Travels[i].Routes {
			// One that came off later cannot have let the travel off.
			if off[first+k] < off[r.Travels[i].Step] {
				r.routes[i] = k
				break
			}
		}
	}
}

// choices is the system in which each travel takes any of its routes, and the first
// helper of each travel that has a choice.
//
// A travel needs one of its routes, and a route needs all that hinders it to be off:
// for this the system gets a helper for each route, which comes off once all its
// hindrances are off, and each travel waits for one of its helpers.
func (r *Constraints) choices(allow []Allowance) (s *precedence.System, helpers map[int]int) {
	helpers = map[int]int{}
	n := len(r.Steps)
	for i := range r.Travels {
		if routes := len(r.Travels[i].Routes); routes > 1 {
			helpers[i] = n
			n += routes
		}
	}
	s = precedence.New(n)
	r.fill(s, allow)
	for i := range r.Travels {
		first, choice := helpers[i]
		if !choice {
			r.clausesOf(s, i)
			continue
		}
		var list []int
		for k := range r.Travels[i].Routes {
			for _, h := range r.hindering(&r.Travels[i].Routes[k]) {
				s.Clause(first+k, wide(h.Shut))
			}
			list = append(list, first+k)
		}
		s.Clause(r.Travels[i].Step, list)
	}
	return s, helpers
}

// hindering lists the hindrances of a route that count: not those which can be undone
// again, where that is allowed.
func (r *Constraints) hindering(route *Route) []Hindrance {
	if !r.reopen {
		return route.Hindrances
	}
	return slices.DeleteFunc(slices.Clone(route.Hindrances), func(h Hindrance) bool { return h.reopens })
}

// routeClauses adds the clauses of the routes that count.
func (r *Constraints) routeClauses(s *precedence.System) {
	for i := range r.Travels {
		r.clausesOf(s, i)
	}
}

func (r *Constraints) clausesOf(s *precedence.System, i int) {
	route := r.Route(i)
	if route == nil {
		return
	}
	said := r.statementsOf(i)
	for n, h := range route.Hindrances {
		if !(r.reopen && h.reopens) {
			s.Clause(r.Travels[i].Step, wide(h.Shut), said[n])
		}
	}
}

// statementsOf lists the statements of the hindrances of a travel's route.
func (r *Constraints) statementsOf(i int) []int {
	route := r.Route(i)
	if route == nil {
		return nil
	}
	key := [2]int{i, r.routes[i]}
	list, known := r.told[key]
	if !known {
		list = make([]int, len(route.Hindrances))
		for n := range list {
			list[n] = r.state(Statement{At: r.Steps[r.Travels[i].Step].Join.Pos, kind: travels,
				travel: i, route: r.routes[i], hindrance: n})
		}
		r.told[key] = list
	}
	return list
}

func wide(list []int32) []int {
	out := make([]int, len(list))
	for i, v := range list {
		out[i] = int(v)
	}
	return out
}
