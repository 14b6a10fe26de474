package plan

import (
	"time"

	"dryfit/kits/english"
)

// Painting is the painting of pieces by themselves, before a step works on them.
type Painting struct {
	Step   int
	Pieces []int
	Takes  time.Duration // hands-on; 0 if the kit states no time for it
	Sets   time.Duration // until they can be handled
}

// paintings lists the painting that the steps of a sequence ask for, in its order.
func (q *Sequence) paintings() []Painting {
	var list []Painting
	for _, v := range q.Order {
		pieces := q.PaintFirst(v)
		if len(pieces) == 0 {
			continue
		}
		p := Painting{Step: v, Pieces: pieces}
		if t := q.Solution.Constraints.Kit.Painting; t != nil {
			p.Takes, p.Sets = time.Duration(len(pieces))*t.Takes, t.Sets
		}
		list = append(list, p)
	}
	return list
}

// Painting is the painting that an activity of the schedule is; nil for a step.
func (s *Schedule) Painting(activity int) *Painting {
	if n := len(s.Sequence.Order); activity >= n {
		return &s.painted[activity-n]
	}
	return nil
}

// Step is the step that an activity is, or that it paints for.
func (s *Schedule) Step(activity int) int {
	if p := s.Painting(activity); p != nil {
		return p.Step
	}
	return activity
}

// Number is the place of a step in the sequence; 0 for painting.
func (s *Schedule) Number(activity int) int {
	if s.Painting(activity) != nil {
		return 0
	}
	return s.Sequence.Place[activity]
}

// Does says what is done in an activity.
func (s *Schedule) Does(activity int) string {
	p := s.Painting(activity)
	if p == nil {
		return s.Sequence.Solution.Constraints.Does(activity)
	}
	var names []string
	for _, piece := range p.Pieces {
		names = append(names, s.Sequence.label(piece))
	}
	if len(names) == 1 {
		return "Paint " + names[0] + " by itself"
	}
	return "Paint " + english.And(names, len(names)) + " by themselves"
}
