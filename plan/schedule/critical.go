// Package schedule computes start times of activities that wait for one another:
// the critical path method (Kelley and Walker 1959), with waits between the end
// of one activity and the start of the next, the time that one pair of hands
// takes in a given order, and schedules in which activities share what there is
// only so much of (a [Project]).
//
// All times are of type time.Duration, counted from the start of the work. All
// results are deterministic: ties go to the activity with the smaller number.
package schedule

import (
	"fmt"
	"time"
)

// Activity is a piece of work that takes hands for a while.
type Activity struct {
	Takes time.Duration
	After []Wait
	Uses  []Use // looked at by a Project only
}

// Wait asks that an activity starts no sooner than For after the end of On.
type Wait struct {
	On  int // index of the earlier activity
	For time.Duration
}

// Times are the dates of one activity.
type Times struct {
	EarlyStart, EarlyFinish time.Duration
	LateStart, LateFinish   time.Duration
	Slack                   time.Duration // how long it can be put off without delaying the end
}

// Plan is the result of the critical path method.
type Plan struct {
	Length   time.Duration
	Times    []Times
	Critical []int // one longest chain, first to last
}

// Critical computes the earliest and latest times of all activities with as many
// hands as they want. It fails when activities wait for one another in a ring.
func Critical(list []Activity) (*Plan, error) {
	order, err := sequence(list)
	if err != nil {
		return nil, err
	}
	p := &Plan{Times: make([]Times, len(list))}
	cause := make([]int, len(list)) // the activity that sets the start
	last := -1
	for _, v := range order {
		t := &p.Times[v]
		cause[v] = -1
		for _, w := range list[v].After {
			if ready := p.Times[w.On].EarlyFinish + w.For; ready > t.EarlyStart || cause[v] < 0 && ready == t.EarlyStart {
				t.EarlyStart, cause[v] = ready, w.On
			}
		}
		t.EarlyFinish = t.EarlyStart + list[v].Takes
		if last < 0 || t.EarlyFinish > p.Length {
			p.Length, last = t.EarlyFinish, v
		}
	}
	p.late(list, order)
	for v := last; v >= 0; v = cause[v] {
		p.Critical = append([]int{v}, p.Critical...)
	}
	return p, nil
}

func (p *Plan) late(list []Activity, order []int) {
	for v := range p.Times {
		p.Times[v].LateFinish = p.Length
	}
	for i := len(order) - 1; i >= 0; i-- {
		v := order[i]
		t := &p.Times[v]
		t.LateStart = t.LateFinish - list[v].Takes
		t.Slack = t.LateStart - t.EarlyStart
		for _, w := range list[v].After {
			if by := t.LateStart - w.For; by < p.Times[w.On].LateFinish {
				p.Times[w.On].LateFinish = by
			}
		}
	}
}

// sequence lists the activities so that each stands behind those it waits for.
func sequence(list []Activity) ([]int, error) {
	waits := make([]int, len(list))
	next := make([][]int, len(list))
	for v, a := range list {
		for _, w := range a.After {
			waits[v]++
			next[w.On] = append(next[w.On], v)
		}
	}
	var order []int
	for v := range list {
		if waits[v] == 0 {
			order = append(order, v)
		}
	}
	for i := 0; i < len(order); i++ {
		for _, v := range next[order[i]] {
			if waits[v]--; waits[v] == 0 {
				order = append(order, v)
			}
		}
	}
	if len(order) < len(list) {
		return nil, fmt.Errorf("%d of %d activities wait for one another in a ring", len(list)-len(order), len(list))
	}
	return order, nil
}

// OneByOne is the time at which one pair of hands has finished the activities,
// done one after the other in the given order, each as soon as its waits allow,
// and the part of that time in which the hands were idle.
func OneByOne(list []Activity, order []int) (end, idle time.Duration) {
	finish := make([]time.Duration, len(list))
	for _, v := range order {
		start := end
		for _, w := range list[v].After {
			start = max(start, finish[w.On]+w.For)
		}
		idle += start - end
		end = start + list[v].Takes
		finish[v] = end
	}
	return end, idle
}
