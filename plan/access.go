package plan

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// Access is how a piece or a wire reaches its place: into a space through one of
// its openings, or to its seat past the meshes of the pieces already there. At
// least one of its routes must be open. A piece has an access for each space
// around it and, once it has been measured, one past the meshes.
type Access struct {
	Step   int
	Piece  int         // -1 for a wire
	Wire   *kits.Wire  // nil for a piece
	Space  *kits.Space // nil for an access past meshes
	Routes []Route
	// Barred are directions that no order can open, because the piece is blocked
	// by what it is fitted to or goes in with.
	Barred []Barred
	// Said reports that the kit states the direction.
	Said bool
	// Learned marks a clause that was found from an order; see learn.go.
	Learned   bool
	under     Relaxation // with which it was learned
	Statement int        // of an access into a space, or learned; past meshes, each blocker has its own
}

// Route is one way in. It is open while none of its blockers is in place.
type Route struct {
	Blockers []Blocker

	// For a route into a space: the opening, and how the piece gets through it.
	Closer kits.Closer
	Pass   Passing
	rider  *Blocker // what covers the opening where it is joined to the piece itself
	// For a route past meshes: the legs in travel order, a single one when the
	// piece goes straight in, and the width in mm of the undercuts that it
	// passes, 0 if none.
	Legs     []geom.Leg
	Undercut float64
	Leaving  int // direction of leaving; -1 for a route of several legs
}

// Blocker is a piece in the way. It is in place once all its joins are done:
// those that tie it to what the moving piece goes onto. One without joins is in
// place from the start.
type Blocker struct {
	Mover   int // the piece that it is in the way of
	Piece   int
	Joins   []int32
	Reopens []int32 // the joins that can be undone again to let the piece pass
	opens   bool    // any of the joins opens, whether it can be undone then or not
}

// ShutIn is the route of a piece that is in its place: what is joined to the piece itself
// keeps it out of nowhere, but shuts it in.
func (t Route) ShutIn() Route {
	if t.rider != nil {
		t.Blockers = []Blocker{*t.rider}
	}
	return t
}

// ShutIn is an access with the routes of a piece that is in its place.
func (a Access) ShutIn() Access {
	a.Routes = slices.Clone(a.Routes)
	for i, t := range a.Routes {
		a.Routes[i] = t.ShutIn()
	}
	return a
}

// Barred is a direction that is always blocked.
type Barred struct {
	Toward       geom.Vec
	Mover, Other int
	Leaving      int
}

// Relaxation is the extra work that an order may ask of the builder to get a
// piece into place.
type Relaxation struct {
	Turning bool // turn a piece on its way through an opening
	Reopen  bool // undo a join that can be opened, and make it again
}

// covers reports whether all that another relaxation allows is allowed.
func (a Relaxation) covers(b Relaxation) bool {
	return (a.Turning || !b.Turning) && (a.Reopen || !b.Reopen)
}

// Toward is the unit direction in which the piece moves into its seat.
func (t *Route) Toward() geom.Vec { return t.Legs[len(t.Legs)-1].Toward }

// passable reports whether the piece can take the route at all.
func (t *Route) passable(a Relaxation) bool {
	return t.Pass != Cannot && (t.Pass != ByTurning || a.Turning)
}

// counts reports whether a blocker keeps the piece out once it is in place. Whether one
// that opens can be taken off then is found out step by step; see [Constraints.learn].
func (b *Blocker) counts(a Relaxation) bool { return !a.Reopen || !b.opens }

// free reports whether the route is never closed for good.
func (t *Route) free(a Relaxation) bool {
	return !slices.ContainsFunc(t.Blockers, func(b Blocker) bool { return b.counts(a) })
}

// Unreachable reports whether no route lets the piece pass, even turned and with nothing
// in the way.
func (a *Access) Unreachable() bool {
	return !slices.ContainsFunc(a.Routes, func(t Route) bool { return t.Pass != Cannot })
}

// clause lists joins, at least one of which must come after the step of an access
// into a space, or reports that a route is always open. stamp is scratch, marked
// with mark.
func (a *Access) clause(allow Relaxation, stamp []int, mark int) (oneOf []int, open bool) {
	for i := range a.Routes {
		t := &a.Routes[i]
		if !t.passable(allow) {
			continue
		}
		if t.free(allow) {
			return nil, true
		}
		for _, v := range t.Blockers[0].Joins {
			if stamp[v] != mark {
				stamp[v] = mark
				oneOf = append(oneOf, int(v))
			}
		}
	}
	return oneOf, false
}

// Joins lists the joins that close any of the routes, each once.
func (a *Access) Joins() []int32 {
	var list []int32
	for _, t := range a.Routes {
		for _, b := range t.Blockers {
			for _, v := range b.Joins {
				if !slices.Contains(list, v) {
					list = append(list, v)
				}
			}
		}
	}
	return list
}

// Joins iterates over the joins that close a route.
func (t *Route) Joins() []int32 {
	var list []int32
	for _, b := range t.Blockers {
		list = append(list, b.Joins...)
	}
	return list
}

// ShutFromStart reports whether a blocker is in place from the start: the piece
// sits on what closes the route.
func (t *Route) ShutFromStart() bool {
	return slices.ContainsFunc(t.Blockers, func(b Blocker) bool { return len(b.Joins) == 0 })
}

// Cleared reports whether undoing some joins moves every blocker out of the way.
func (t *Route) Cleared(undone []bool) bool {
	return !slices.ContainsFunc(t.Blockers, func(b Blocker) bool {
		return !slices.ContainsFunc(b.Joins, func(v int32) bool { return undone[v] })
	})
}

// differs reports whether two relaxations leave the access different routes.
func (a *Access) differs(x, y Relaxation) bool {
	for i := range a.Routes {
		t := &a.Routes[i]
		if t.passable(x) != t.passable(y) || x.Reopen != y.Reopen && t.passable(y) && t.reopens() {
			return true
		}
	}
	return false
}

// reopens reports whether a join that opens shuts the route.
func (t *Route) reopens() bool {
	return slices.ContainsFunc(t.Blockers, func(b Blocker) bool { return b.opens })
}

// EachClause reports the clauses of an access under a relaxation, each with its
// statement. At least one join of a clause must come after the step. An access
// into a space has one clause, since any opening will do at any time; one past
// meshes has a clause for each blocker of its chosen route.
func (r *Constraints) EachClause(i int, allow Relaxation, report func(oneOf []int, statement int)) {
	a := &r.Access[i]
	if a.Learned && !a.under.covers(allow) {
		return
	}
	if a.Space != nil {
		if a.Unreachable() {
			return // reported separately; no order could fix it
		}
		if r.stamp == nil {
			r.stamp = make([]int, len(r.Steps))
		}
		r.mark++
		if oneOf, open := a.clause(allow, r.stamp, r.mark); !open {
			report(oneOf, a.Statement)
		}
		return
	}
	route := r.Route(i)
	if route == nil {
		return
	}
	said := r.StatementsOf(i)
	for n := range route.Blockers {
		if b := &route.Blockers[n]; b.counts(allow) {
			report(wide(b.Joins), said[n])
		}
	}
}

// StatementsOf lists the statements of the blockers of the route that an access past
// meshes takes.
func (r *Constraints) StatementsOf(i int) []int {
	route := r.Route(i)
	if route == nil {
		return nil
	}
	if a := &r.Access[i]; a.Learned {
		return []int{a.Statement}
	}
	key := [2]int{i, r.routes[i]}
	list, known := r.told[key]
	if !known {
		list = make([]int, len(route.Blockers))
		for n := range list {
			list[n] = r.state(Statement{At: r.Steps[r.Access[i].Step].Join.Pos, Kind: OfMeshes,
				Access: i, Route: r.routes[i], Blocker: n})
		}
		r.told[key] = list
	}
	return list
}

// Route is the route that an access past meshes takes in the orders of the
// solution. It is nil if there is none, and for an access into a space, where any
// open route will do.
func (r *Constraints) Route(i int) *Route {
	if r.routes == nil || r.routes[i] < 0 {
		return nil
	}
	return &r.Access[i].Routes[r.routes[i]]
}

// AccessOf lists the accesses of a step: into spaces first, then past meshes, then what
// was learned.
func (r *Constraints) AccessOf(step int) []int { return r.accessOf[step] }

// IntoSpaces lists the accesses of a step into spaces.
func (r *Constraints) IntoSpaces(step int) []int {
	list := r.accessOf[step]
	n := 0
	for n < len(list) && r.Access[list[n]].Space != nil && !r.Access[list[n]].Learned {
		n++
	}
	return list[:n]
}

// PastMeshes lists the accesses of a step past meshes.
func (r *Constraints) PastMeshes(step int) []int {
	list := r.accessOf[step][len(r.IntoSpaces(step)):]
	n := 0
	for n < len(list) && !r.Access[list[n]].Learned {
		n++
	}
	return list[:n]
}

func (r *Constraints) addAccess(a Access) {
	r.accessOf[a.Step] = append(r.accessOf[a.Step], len(r.Access))
	r.Access = append(r.Access, a)
}

// Who is the id of the piece or wire of an access.
func (r *Constraints) Who(a *Access) string {
	if a.Wire != nil {
		return a.Wire.ID
	}
	return r.PieceName(a.Piece)
}

func wide(list []int32) []int {
	out := make([]int, len(list))
	for i, v := range list {
		out[i] = int(v)
	}
	return out
}

// Unseen reports whether the stated direction was never measured.
func (a *Access) Unseen() bool { return len(a.Routes) == 0 && len(a.Barred) == 0 }
