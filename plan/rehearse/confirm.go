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
	f := Walk(p.Kit, c.Geometry, c.Steps, Actions(q.Order)).Failure
	if f == nil {
		return
	}
	v := f.Action.Step
	text := fmt.Sprintf("the order and its rehearsal disagree at step %d (%s: %s): please report this with the kit file",
		q.Place[v], c.Name(v), f.Text(p.Kit, c.Name))
	p.Sequence = nil
	p.Add(plan.NewFinding(plan.Rehearsal, plan.Fault, text).About(subject(p, v)).At(c.Name(v), v).Placed(c.Steps[v].Pos()))
}

// subject is the id of the first piece that a step fits or joins, or of its wire; the name
// of a task.
func subject(p *plan.Project, step int) string {
	if list := p.Constraints.Steps[step].Pieces(); len(list) > 0 {
		return p.Kit.Pieces[list[0]].ID
	}
	return p.Constraints.Name(step)
}
