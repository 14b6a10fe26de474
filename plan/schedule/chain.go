package schedule

import (
	"slices"
	"time"
)

// Reason says why an activity does not start earlier.
type Reason int

// The reasons.
const (
	AtOnce    Reason = iota // nothing holds it up
	Waits                   // for another activity to end and, if there is a time lag, for that
	GivenBack               // for a resource that another activity uses
)

// Link is an activity of the chain that decides how long a schedule is.
type Link struct {
	Activity int
	Cause    Reason
	On       int // the activity before it in the chain; -1 at the start
	// Free is when it could have started after that. If it starts later, it waits
	// for the morning, or for a long enough interval.
	Free time.Duration
}

// Chain follows a schedule back from its end: each activity to the one whose end,
// with the wait behind it, comes last before its start. Any delay in the chain is a
// delay of the whole, unless the schedule is changed.
func (p *Project) Chain(s *Schedule) []Link {
	var list []Link
	v := -1
	for w, end := range s.End {
		if v < 0 || end > s.End[v] {
			v = w
		}
	}
	seen := make([]bool, len(s.End)) // activities of zero length could hold up each other
	for v >= 0 && !seen[v] {
		seen[v] = true
		l := p.Cause(s, v)
		list = append(list, l)
		v = l.On
	}
	slices.Reverse(list)
	return list
}

// Cause says why an activity does not start earlier.
func (p *Project) Cause(s *Schedule, v int) Link {
	l := Link{Activity: v, On: -1}
	a := &p.Activities[v]
	for _, w := range a.After {
		if free := s.End[w.On] + w.For; l.On < 0 || free > l.Free {
			l = Link{v, Waits, w.On, free}
		}
	}
	if a.Takes == 0 {
		return l
	}
	for w, end := range s.End {
		if end > l.Free && end <= s.Start[v] && p.share(v, w) {
			l = Link{v, GivenBack, w, end}
		}
	}
	return l
}

// share reports whether two activities use the same resource.
func (p *Project) share(v, w int) bool {
	for _, u := range p.Activities[v].Uses {
		for _, x := range p.Activities[w].Uses {
			if u.Resource == x.Resource && u.Amount > 0 && x.Amount > 0 && p.Activities[w].Takes > 0 {
				return true
			}
		}
	}
	return false
}
