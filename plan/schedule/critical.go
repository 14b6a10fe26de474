// Package schedule computes start times of activities that wait for one another:
// the critical path method (J. E. Kelley and M. R. Walker, "Critical-path planning and
// scheduling", Eastern Joint Computer Conference, 1959), with waits between the end of one activity and the start of the next, the time that one pair of hands
// takes in a given order, and schedules in which activities share what is scarce
// (a [Project]).
//
// All times are of type time.Duration, counted from the start of the work. All
// results are deterministic: ties go to the activity with the smaller number.
package schedule

import "time"

// Activity is a piece of work.
type Activity struct {
	Takes time.Duration
	After []Wait
	Uses  []Use // of a Project
}

// Wait requires an activity to start no sooner than For after the end of On.
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

// Critical computes the earliest and latest times of all activities with
// unlimited hands. It fails when activities wait for one another in a cycle.
func Critical(list []Activity) (*Plan, error) {
	n, err := newNetwork(&Project{Activities: list})
	if err != nil {
		return nil, err
	}
	s := n.ends(n.earliest())
	late := n.latest(s.Length)
	p := &Plan{Length: s.Length, Times: make([]Times, len(list))}
	for v, a := range list {
		p.Times[v] = Times{s.Start[v], s.End[v], late[v], late[v] + a.Takes, late[v] - s.Start[v]}
	}
	for _, l := range n.Chain(s) {
		p.Critical = append(p.Critical, l.Activity)
	}
	return p, nil
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
