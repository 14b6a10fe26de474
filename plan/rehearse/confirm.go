package rehearse

import (
	"fmt"

	"dryfit/plan"
)

// Confirm replays the sequence of a project. One that fails is dropped, with a fault:
// nothing is promised that was not replayed.
func Confirm(p *plan.Project) {
	q, c := p.Sequence, p.Constraints
	if q == nil {
		return
	}
	acts := q.Acts()
	walk := Walk(p.Kit, c.Geometry, c.Steps, All(acts))
	if walk.OK() && len(walk.Reopened) == 0 {
		confirmService(p)
		return
	}
	p.Add(disagreement(p, "the order", walk, acts))
	p.Sequence = nil
}

// disagreement is the fault that a sequence of a project cannot be replayed: a mistake,
// unless the work of finding it or of replaying it reached its limit.
func disagreement(p *plan.Project, what string, walk *Result, acts []plan.Act) plan.Finding {
	c := p.Constraints
	v, why := stops(walk, acts, func(f *Failure) string { return f.Text(p.Kit, c.Name) })
	f := plan.NewFinding(plan.Rehearsal, plan.Fault, fmt.Sprintf("%s and its rehearsal disagree at step %d (%s: %s): please report this with the kit file",
		what, p.Sequence.Place[v], c.Name(v), why))
	if c.GaveUp() || walk.Failure != nil && walk.Failure.Kind == GivenUp {
		f = plan.NewFinding(plan.Limit, plan.Fault, fmt.Sprintf("%s is not proven: what has to be taken off and put back for %s takes more work to find out than dryfit does", what, c.Name(v))).
			Suggest(fmt.Sprintf("say with after or before which steps come first, so that %s goes in before what shuts it", c.Name(v)),
				"let fewer joins open: only those that are opened on the finished model")
	}
	return f.About(subject(p, v)).At(c.Name(v), v).Placed(c.Steps[v].Pos())
}

// All gives the entries of a sequence as actions.
func All(acts []plan.Act) []Action {
	list := make([]Action, len(acts))
	for i, a := range acts {
		list[i] = Action{Step: a.Step, Off: a.Off}
	}
	return list
}

// stops is the step at which a replay of some entries goes wrong, and why.
func stops(walk *Result, acts []plan.Act, text func(*Failure) string) (step int, why string) {
	switch {
	case walk.Failure != nil:
		return acts[walk.Fine].For, text(walk.Failure)
	case len(walk.Reopened) > 0:
		return acts[walk.Reopened[0].At].For, "something has to be undone for it, and the order does not say so"
	}
	return walk.Missing[0], "it is missing"
}

// subject is the id of the first piece that a step fits or joins, or of its wire; the name
// of a task.
func subject(p *plan.Project, step int) string {
	if list := p.Constraints.Steps[step].Pieces(); len(list) > 0 {
		return p.Kit.Pieces[list[0]].ID
	}
	return p.Constraints.Name(step)
}
