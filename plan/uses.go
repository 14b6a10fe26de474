package plan

import (
	"fmt"
	"slices"
	"strings"
)

// wayFindings reports the steps of the order that rely on more than a straight way
// that is still open: turning is a caution, opening something again a note.
func (q *Sequence) wayFindings() []Finding {
	r := q.Solution.Constraints
	var list []Finding
	for i := range r.Access {
		a := &r.Access[i]
		if a.unreachable() {
			continue
		}
		route, inPlace := q.used(i)
		switch {
		case a.Space == nil:
			for _, n := range inPlace {
				list = append(list, q.reopenTravel(i, n))
			}
			continue
		case route.Pass == ByTurning:
			list = append(list, q.turningFinding(i, *route))
		}
		if len(inPlace) > 0 {
			list = append(list, q.reopenFinding(a, *route))
		}
	}
	return list
}

// used is the best route that the sequence leaves to an access, and its blockers, by
// number, that are in place by then and must be undone again.
func (q *Sequence) used(i int) (best *Route, inPlace []int) {
	r := q.Solution.Constraints
	a := &r.Access[i]
	if a.Space == nil {
		if route := r.Route(i); route != nil {
			return route, q.inPlace(a, route)
		}
		return nil, nil
	}
	grade := -1
	for k := range a.Routes {
		t := &a.Routes[k]
		there := q.inPlace(a, t)
		if t.Pass == Cannot || slices.ContainsFunc(there, func(n int) bool { return len(t.Blockers[n].Reopens) == 0 }) {
			continue
		}
		g := 0
		if t.Pass != ByTurning {
			g += 2
		}
		if len(there) == 0 {
			g++
		}
		if g > grade {
			grade, best, inPlace = g, t, there
		}
	}
	return best, inPlace
}

// inPlace lists the blockers of a route, by number, that are in place at the access's step.
func (q *Sequence) inPlace(a *Access, t *Route) []int {
	var list []int
	for n, b := range t.Blockers {
		if !slices.ContainsFunc(b.Joins, func(v int32) bool { return q.Place[v] > q.Place[a.Step] }) {
			list = append(list, n)
		}
	}
	return list
}

// reopenTravel reports a blocker that is in place when the turn of a piece comes, and
// must be taken off again for it.
func (q *Sequence) reopenTravel(i, blocker int) Finding {
	r := q.Solution.Constraints
	a, route := &r.Access[i], r.Route(i)
	st := &r.Statements[r.statementsOf(i)[blocker]]
	other := r.pieceName(route.Blockers[blocker].Piece)
	return Finding{
		Kind: Reopened, Grade: Note, Piece: r.pieceName(a.Piece), Step: r.name(a.Step), at: st.At,
		Text:    fmt.Sprintf("for %s, which travels toward %s to its seat, %s is taken off again, and put back afterwards", r.pieceName(a.Piece), Axis(route.Toward()), other),
		Because: []Reason{because(r.hindered(st), st.At, r.pieceName(a.Piece), other)},
	}
}

func (q *Sequence) turningFinding(access int, w Route) Finding {
	r := q.Solution.Constraints
	e := &r.Access[access]
	st := r.Statements[e.Statement]
	f := Finding{
		Kind: Turning, Grade: Caution, Piece: r.who(e), Step: r.name(e.Step), at: st.At,
		Text: fmt.Sprintf("%s goes into %s only by turning it in %s (%s): at %s it is too large to go straight in, and no size proves that there is room to turn",
			r.who(e), e.Space.ID, r.wayName(w.Closer), r.mm(w.Closer.Opening.W, w.Closer.Opening.H), r.sides(e)),
	}
	// Why not straight: solve again with nothing but straight ways for this entry.
	allow := slices.Clone(q.Solution.allow)
	allow[access].Turning = false
	strict := &Solution{Constraints: r, Allowance: Allowance{Reopen: q.Solution.Allowance.Reopen}, System: r.system(allow)}
	strict.Stuck = strict.System.Stuck()
	for _, root := range strict.System.Roots() {
		conflict := strict.System.Conflict(root)
		f.Because = append(f.Because, strict.chain(root, conflict)...)
		f.Repairs = append(f.Repairs, r.try(r.proposals(root, conflict), func(c change) bool {
			after := r.again(c)
			return len(after.Access) == len(allow) && after.system(allow).Solvable()
		})...)
	}
	return f
}

func (q *Sequence) reopenFinding(e *Access, w Route) Finding {
	r := q.Solution.Constraints
	var joins []string
	for _, v := range w.Blockers[0].Reopens {
		joins = append(joins, r.name(int(v)))
	}
	st := r.Statements[e.Statement]
	return Finding{
		Kind: Reopened, Grade: Note, Piece: r.who(e), Step: r.name(e.Step), at: st.At,
		Text:    fmt.Sprintf("for %s what %s has joined is opened again, and put back afterwards", r.who(e), strings.Join(joins, " or ")),
		Because: []Reason{because(st.Text, st.At)},
	}
}
