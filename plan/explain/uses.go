package explain

import (
	"dryfit/kits/english"
	"dryfit/plan"
	"fmt"
	"slices"
	"strings"
)

// wayFindings reports the steps of the order that need more than an open,
// straight way in: turning is a caution, opening something again a note.
func (q *order) wayFindings() []plan.Finding {
	r := q.explainer
	var list []plan.Finding
	for i := range r.Access {
		a := &r.Access[i]
		if a.Unreachable() {
			continue
		}
		route, inPlace := q.used(i)
		switch {
		case a.Space == nil:
			for _, n := range inPlace {
				list = append(list, q.reopenTravel(i, n))
			}
			continue
		case route.Pass == plan.ByTurning:
			list = append(list, q.turningFinding(i, *route))
		}
		if len(inPlace) > 0 {
			list = append(list, q.reopenFinding(a, *route))
		}
	}
	return list
}

// used is the best route that the sequence leaves to an access, with the indices
// of the blockers that are in place by then and must be undone again.
func (q *order) used(i int) (best *plan.Route, inPlace []int) {
	r := q.explainer
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
		if t.Pass == plan.Cannot || slices.ContainsFunc(there, func(n int) bool { return len(t.Blockers[n].Reopens) == 0 }) {
			continue
		}
		g := 0
		if t.Pass != plan.ByTurning {
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

// inPlace lists the indices of the blockers of a route that are in place at the
// access's step.
func (q *order) inPlace(a *plan.Access, t *plan.Route) []int {
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
func (q *order) reopenTravel(i, blocker int) plan.Finding {
	r := q.explainer
	a, route := &r.Access[i], r.Route(i)
	st := &r.Statements[r.StatementsOf(i)[blocker]]
	other := r.PieceName(route.Blockers[blocker].Piece)
	return plan.Finding{
		Kind: plan.Reopened, Grade: plan.Note, Piece: r.PieceName(a.Piece), Step: r.Name(a.Step), Steps: []int{a.Step}, Pos: st.At,
		Text:    fmt.Sprintf("for %s, which travels toward %s to its seat, %s is taken off again, and put back afterwards", r.PieceName(a.Piece), english.Direction(route.Toward()), other),
		Because: []plan.Reason{plan.ReasonAt(r.hindered(st), st.At, r.PieceName(a.Piece), other)},
	}
}

func (q *order) turningFinding(access int, w plan.Route) plan.Finding {
	r := q.explainer
	e := &r.Access[access]
	st := r.Statements[e.Statement]
	f := plan.Finding{
		Kind: plan.Turning, Grade: plan.Caution, Piece: r.Who(e), Step: r.Name(e.Step), Steps: []int{e.Step}, Pos: st.At,
		Text: fmt.Sprintf("%s goes into %s only by turning it in %s (%s): at %s it is too large to go straight in, and no size proves that there is room to turn",
			r.Who(e), e.Space.ID, r.OpeningName(w.Closer), r.MM(w.Closer.Opening.W, w.Closer.Opening.H), r.sides(e)),
	}
	// To say why not straight, solve again with only straight ways for this
	// access.
	allow := slices.Clone(q.Solution.Relaxed)
	allow[access].Turning = false
	strict := &outcome{&plan.Solution{Constraints: r.Constraints, Relaxation: plan.Relaxation{Reopen: q.Solution.Relaxation.Reopen}, System: r.System(allow)}, r}
	strict.Stuck = strict.System.Stuck()
	for _, root := range strict.System.Roots() {
		conflict := strict.System.Conflict(root)
		f.Because = append(f.Because, strict.chain(root, conflict)...)
		f.Repairs = append(f.Repairs, r.try(r.proposals(root, conflict), func(c plan.Change) bool {
			after := r.with(c)
			return len(after.Access) == len(allow) && after.System(allow).Solvable()
		})...)
	}
	return f
}

func (q *order) reopenFinding(e *plan.Access, w plan.Route) plan.Finding {
	r := q.explainer
	var joins []string
	for _, v := range w.Blockers[0].Reopens {
		joins = append(joins, r.Name(int(v)))
	}
	st := r.Statements[e.Statement]
	return plan.Finding{
		Kind: plan.Reopened, Grade: plan.Note, Piece: r.Who(e), Step: r.Name(e.Step), Steps: []int{e.Step}, Pos: st.At,
		Text:    fmt.Sprintf("to fit %s, %s must be undone and then done again", r.Who(e), strings.Join(joins, " or ")),
		Because: []plan.Reason{plan.ReasonAt(st.Text, st.At)},
	}
}
