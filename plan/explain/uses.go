package explain

import (
	"fmt"
	"slices"

	"dryfit/kits/english"
	"dryfit/plan"
)

// wayFindings reports the steps of the order that need more than an open,
// straight way in: turning is a caution, opening something again a note.
func (q *order) wayFindings() []plan.Finding {
	r := q.explainer
	var list []plan.Finding
	for i := range r.Access {
		a := &r.Access[i]
		if a.Space == nil || a.Learned || a.Unreachable() {
			continue
		}
		if route := q.used(a); route != nil && route.Pass == plan.ByTurning {
			list = append(list, q.turningFinding(i, *route))
		}
	}
	for _, v := range q.Reopened() {
		if q.Detour(v).Turns && !slices.ContainsFunc(list, func(f plan.Finding) bool { return f.Steps[0] == v }) {
			list = append(list, q.turnedOff(v))
		}
		list = append(list, q.reopenFinding(v))
	}
	return list
}

// turnedOff reports that what is taken off for a step passes an opening only turned.
func (q *order) turnedOff(step int) plan.Finding {
	f := q.reopenFinding(step)
	f.Kind, f.Grade = plan.Turning, plan.Caution
	f.Text += "; what is taken off passes an opening only by turning it, and no size proves that there is room to turn"
	return f
}

// used is the best route that the sequence leaves to an access into a space, with all off
// that is taken off for its step.
func (q *order) used(a *plan.Access) *plan.Route {
	var best *plan.Route
	for k := range a.Routes {
		t := &a.Routes[k]
		if t.Pass == plan.Cannot || q.shut(a, t) {
			continue
		}
		if best == nil || best.Pass == plan.ByTurning {
			best = t
		}
	}
	return best
}

// shut reports whether a blocker of a route is in place at the access's step.
func (q *order) shut(a *plan.Access, t *plan.Route) bool {
	return slices.ContainsFunc(t.Blockers, func(b plan.Blocker) bool {
		return !slices.ContainsFunc(b.Joins, func(v int32) bool { return q.Place[v] > q.Place[a.Step] || q.isOff(int(v), a.Step) })
	})
}

// isOff reports whether a join is undone while a step is done.
func (q *order) isOff(join, step int) bool {
	d := q.Detour(step)
	return d != nil && slices.Contains(d.Off, join)
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

// reopenFinding reports what is taken off for a step, and what would be in its way.
func (q *order) reopenFinding(step int) plan.Finding {
	r := q.explainer
	var joins []string
	for _, v := range q.Detour(step).Off {
		joins = append(joins, r.Name(v))
	}
	f := plan.Finding{Kind: plan.Reopened, Grade: plan.Note, Step: r.Name(step), Steps: []int{step}, Pos: r.Steps[step].Pos()}
	for _, i := range r.AccessOf(step) {
		a := &r.Access[i]
		if a.Learned || !q.reopens(a) {
			continue
		}
		if f.Piece == "" {
			f.Piece = r.Who(a)
		}
		f.Because = append(f.Because, q.inTheWay(i)...)
	}
	verb := "fit"
	if r.Steps[step].Wire != nil {
		verb = "thread"
	}
	f.Text = fmt.Sprintf("to %s %s, %s must be undone and then done again", verb, f.Piece, english.And(joins, 8))
	return f
}

// reopens reports whether an access is shut until something is taken off for its step.
func (q *order) reopens(a *plan.Access) bool {
	return !slices.ContainsFunc(a.Routes, func(t plan.Route) bool {
		return t.Pass != plan.Cannot && !slices.ContainsFunc(t.Blockers, func(b plan.Blocker) bool {
			return !slices.ContainsFunc(b.Joins, func(v int32) bool { return q.Place[v] > q.Place[a.Step] })
		})
	})
}

// inTheWay gives what would keep an access shut.
func (q *order) inTheWay(i int) []plan.Reason {
	r := q.explainer
	a := &r.Access[i]
	if a.Space != nil {
		st := &r.Statements[a.Statement]
		return []plan.Reason{plan.ReasonAt(st.Text, st.At)}
	}
	var list []plan.Reason
	if route := r.Route(i); route != nil {
		said := r.StatementsOf(i)
		for n, b := range route.Blockers {
			if slices.ContainsFunc(b.Joins, func(v int32) bool { return q.isOff(int(v), a.Step) }) {
				st := &r.Statements[said[n]]
				list = append(list, plan.ReasonAt(r.hindered(st), st.At, r.PieceName(a.Piece), r.PieceName(b.Piece)))
			}
		}
	}
	return list
}
