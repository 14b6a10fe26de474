package schedule

import (
	"errors"
	"fmt"
	"time"
)

// Project is a set of activities that share limited resources: pairs of hands,
// places to work at. It is the resource-constrained project scheduling problem,
// with finish-to-start time lags and working hours.
type Project struct {
	Activities []Activity
	Capacity   []int // how much there is of each resource
	Day        Day
	Tolerance  float64 // share of its length by which a schedule may be longer than needed; see Schedule
}

// Use says how much of a resource an activity holds from its start to its end. An
// activity names a resource once.
type Use struct{ Resource, Amount int }

// Schedule has start and end times of all activities of a Project.
type Schedule struct {
	Start, End []time.Duration
	Length     time.Duration // the end of the last activity
	Bound      time.Duration // no schedule of the project ends before this
}

// Least reports whether the schedule is proven to be a shortest one.
func (s *Schedule) Least() bool { return s.Length == s.Bound }

// longest is the longest project that is supported: time.Duration ends at 292
// years.
const longest = 200 * 365 * fullDay

// ErrTooLong is returned for a project that may last more than 200 years.
var ErrTooLong = errors.New("the work may last more than 200 years")

// check makes sure that a schedule exists and that its times can be represented.
func (p *Project) check() error {
	total := 0.0
	for v, a := range p.Activities {
		longestWait, most := time.Duration(0), 1
		for _, w := range a.After {
			longestWait = max(longestWait, w.For)
		}
		for _, u := range a.Uses {
			if u.Amount > p.Capacity[u.Resource] {
				return fmt.Errorf("activity %d needs %d of resource %d, and there are only %d", v, u.Amount, u.Resource, p.Capacity[u.Resource])
			}
			most = max(most, u.Amount)
		}
		takes := float64(a.Takes) * float64(most) // sums of work are taken too
		if !p.Day.whole() {
			takes *= float64(fullDay) / float64(p.Day)
			longestWait += fullDay - time.Duration(p.Day) // it may have to wait for the morning
		}
		total += takes + float64(longestWait)
	}
	if total > float64(longest) {
		return ErrTooLong
	}
	return nil
}

// ends fills in the end times and the length.
func (p *Project) ends(start []time.Duration) *Schedule {
	s := &Schedule{Start: start, End: make([]time.Duration, len(start))}
	for v, a := range p.Activities {
		s.End[v] = p.Day.End(start[v], a.Takes)
		s.Length = max(s.Length, s.End[v])
	}
	return s
}

// Span is a stretch of time.
type Span struct{ From, To time.Duration }

// Idle lists the stretches of working time, up to the end of a schedule, in which
// no activity is under way.
func (p *Project) Idle(s *Schedule) []Span {
	var list []Span
	busy := time.Duration(0) // everything before it is busy or listed
	for _, v := range ByTime(s.Start, nil) {
		if p.Activities[v].Takes == 0 {
			continue
		}
		if from := p.Day.Start(busy, 1); p.Day.Working(from, s.Start[v]) > 0 {
			list = append(list, Span{from, s.Start[v]})
		}
		busy = max(busy, s.End[v])
	}
	if from := p.Day.Start(busy, 1); p.Day.Working(from, s.Length) > 0 {
		list = append(list, Span{from, s.Length})
	}
	return list
}
