package rehearse

import (
	"fmt"

	"dryfit/kits"
	"dryfit/plan"
)

// Reach takes apart what opens on the finished model, past all that stays, and takes out a
// service item then, with all that is on it. It says what keeps it in; nil if nothing does.
// Wires have slack and hold nothing. An item that nothing fits is a base, and always there.
func Reach(k *kits.Kit, g *plan.Geometry, steps []plan.Step, s *kits.Service) *Failure {
	m := newModel(k, g, steps)
	item := m.fits[s.Reach]
	if item < 0 {
		return nil
	}
	for v, step := range steps {
		if step.Wire == nil {
			m.make(v)
		}
	}
	off := m.comeOff(m.openJoins(item))
	if m.work > maxReopened {
		return &Failure{Action: Action{Step: item, Off: true}, Kind: GivenUp, Piece: -1}
	}
	for _, v := range off {
		m.undo(v)
	}
	if steps[item].Join.Opens {
		return m.takeOff(item)
	}
	m.undo(item) // to be got at is enough
	return m.comesBy(item)
}

// confirmService adds a fault for each service item that is said to stay in reach and
// cannot be reached.
func confirmService(p *plan.Project) {
	for _, s := range p.Kit.Service {
		f := Reach(p.Kit, p.Constraints.Geometry, p.Constraints.Steps, s)
		if f == nil {
			continue
		}
		item := p.Kit.Pieces[s.Reach].ID
		text := fmt.Sprintf("%s is said to stay in reach, and its rehearsal disagrees (%s): please report this with the kit file", item, f.Text(p.Kit, p.Constraints.Name))
		found := plan.NewFinding(plan.Rehearsal, plan.Fault, text)
		if f.Kind == GivenUp {
			found = plan.NewFinding(plan.Limit, plan.Fault, fmt.Sprintf("that %s stays in reach is not proven: so many joins open that not all of them were tried", item)).
				Suggest("let fewer joins open: only those that are opened on the finished model")
		}
		p.Add(found.About(item).Placed(s.Pos))
	}
}
