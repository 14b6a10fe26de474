package plan

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// Access is how a piece or a wire reaches its place: into a space by one of its
// openings, or past the meshes of what stands there by one of its ways. It needs one of
// its routes. A piece has an access for each space around it and, once it has been
// measured, one past the meshes.
type Access struct {
	Step   int
	Piece  int         // -1 for a wire
	Wire   *kits.Wire  // nil for a piece
	Space  *kits.Space // nil for an access past meshes
	Routes []Route
	// Barred are directions that no sequence opens, since what the piece is fitted to, or
	// goes in with, is in the way itself.
	Barred []Barred
	// Said reports that the kit says the direction.
	Said      bool
	Statement int // of an access into a space; those past meshes have one for each blocker
}

// Route is one way in. It is open while none of its blockers is in place.
type Route struct {
	Blockers []Blocker

	// Of a route into a space: the opening, and how the piece gets through it.
	Closer kits.Closer
	Pass   Passing
	// Of a route past meshes: the legs as the piece travels into its seat; of one leg, the
	// way straight in. It goes past undercuts so wide, in mm; 0 if past none.
	Legs     []geom.Leg
	Undercut float64
	Leaving  int // direction of leaving; -1 for a way of several legs
}

// Blocker is a piece in the way. It is in place once its joins are all done: those that
// tie it to what the moving piece goes onto. One without joins is in place from the start.
type Blocker struct {
	Mover   int // the piece that it is in the way of
	Piece   int
	Joins   []int32
	Reopens []int32 // of the joins, those that can be undone again to let the piece pass
}

// Barred is a direction that something always bars.
type Barred struct {
	Toward       geom.Vec
	Mover, Other int
	Leaving      int
}

// Relaxation is what a sequence may ask of the builder to get a piece into its place.
type Relaxation struct {
	Turning bool // turn a piece on its way through an opening
	Reopen  bool // undo a join that opens, and make it again
}

// Toward is the direction in which the piece comes into its seat, of length 1.
func (t *Route) Toward() geom.Vec { return t.Legs[len(t.Legs)-1].Toward }

// allowed reports whether the piece passes the route at all.
func (t *Route) passable(a Relaxation) bool {
	return t.Pass != Cannot && (t.Pass != ByTurning || a.Turning)
}

// counts reports whether a blocker keeps the piece out once it is in place.
func (b *Blocker) counts(a Relaxation) bool { return !a.Reopen || len(b.Reopens) == 0 }

// free reports whether nothing ever closes the route for good.
func (t *Route) free(a Relaxation) bool {
	return !slices.ContainsFunc(t.Blockers, func(b Blocker) bool { return b.counts(a) })
}

// Unreachable reports whether no route lets the piece pass, even turned and with nothing
// in the way.
func (a *Access) Unreachable() bool {
	return !slices.ContainsFunc(a.Routes, func(t Route) bool { return t.Pass != Cannot })
}

// clause lists the joins of which one must come after the step of an access into a
// space, or reports that a route is always open. stamp is scratch, marked with mark.
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
				if !contains(list, v) {
					list = append(list, v)
				}
			}
		}
	}
	return list
}

// Joins lists the joins that close a route, in turn.
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

// Cleared reports whether every blocker is out of the way once some joins are undone.
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

// reopens reports whether a join can be undone again to clear the route of a blocker.
func (t *Route) reopens() bool {
	return slices.ContainsFunc(t.Blockers, func(b Blocker) bool { return len(b.Reopens) > 0 })
}

// EachClause reports the clauses of an access under a relaxation, each with its
// statement: of the joins of a clause one must come after the step. An access into a
// space has one clause, since any opening will do at any time; one past meshes has a
// clause for each blocker of the route that was chosen for it.
func (r *Constraints) EachClause(i int, allow Relaxation, report func(oneOf []int, statement int)) {
	a := &r.Access[i]
	if a.Space != nil {
		if a.Unreachable() {
			return // a finding of its own; no sequence could fix it
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

// Route is the route that an access past meshes takes in the sequences of the solution;
// nil if it has none, and for an access into a space, which is open as long as any is.
func (r *Constraints) Route(i int) *Route {
	if r.routes == nil || r.routes[i] < 0 {
		return nil
	}
	return &r.Access[i].Routes[r.routes[i]]
}

// AccessOf lists the accesses of a step: into spaces first, then past meshes.
func (r *Constraints) AccessOf(step int) []int { return r.accessOf[step] }

// IntoSpaces lists the accesses of a step into spaces.
func (r *Constraints) IntoSpaces(step int) []int {
	list := r.accessOf[step]
	n := 0
	for n < len(list) && r.Access[list[n]].Space != nil {
		n++
	}
	return list[:n]
}

// PastMeshes lists the accesses of a step past meshes.
func (r *Constraints) PastMeshes(step int) []int {
	return r.accessOf[step][len(r.IntoSpaces(step)):]
}

func (r *Constraints) addAccess(a Access) {
	r.accessOf[a.Step] = append(r.accessOf[a.Step], len(r.Access))
	r.Access = append(r.Access, a)
}

// Who is the piece or wire of an access in the ids of the file.
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

// Unseen reports whether nothing was looked at along the direction that is said.
func (a *Access) Unseen() bool { return len(a.Routes) == 0 && len(a.Barred) == 0 }
