package rehearse

import (
	"errors"
	"slices"
	"time"

	"dryfit/plan"
)

// Usual plans the work of a project for one pair of hands and working days of usual
// length, as documents state it; nil without an order.
func Usual(p *plan.Project) (*plan.Schedule, error) {
	if p.Sequence == nil {
		return nil, nil
	}
	return Schedule(p, 1, plan.WorkingDay)
}

// Schedule plans the work of a proven order, see [plan.Sequence.Schedule], and replays the
// steps as they start. A plan that fails is dropped, with a fault of the project, which
// the error repeats.
func Schedule(p *plan.Project, hands int, day time.Duration) (*plan.Schedule, error) {
	s, err := p.Sequence.Schedule(hands, day)
	if err != nil {
		return nil, err
	}
	return confirmed(p, s)
}

func confirmed(p *plan.Project, s *plan.Schedule) (*plan.Schedule, error) {
	var acts []plan.Act
	for _, v := range s.Order {
		if s.Painting(v) == nil {
			acts = append(acts, p.Sequence.ActsFor(v)...)
		}
	}
	walk := Walk(p.Kit, p.Constraints.Geometry, p.Constraints.Steps, All(acts))
	if walk.OK() && len(walk.Reopened) == 0 {
		return s, nil
	}
	f := disagreement(p, "the work schedule", walk, acts)
	if !slices.ContainsFunc(p.Findings, func(g plan.Finding) bool { return g.Kind == f.Kind && g.Text == f.Text }) {
		p.Add(f)
	}
	return nil, errors.New(f.Text)
}
