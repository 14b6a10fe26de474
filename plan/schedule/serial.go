package schedule

import "time"

// serial starts the activities of a list one after the other, each at the earliest
// time that its waits, its resources and the day allow beside those before it in the
// list; the list has each behind those it waits for. It is the serial schedule
// generation scheme (J. E. Kelley, "The critical-path method: resources planning and
// scheduling", in Industrial Scheduling, Prentice-Hall, 1963).
func (n *network) serial(list []int) *Schedule {
	start := make([]time.Duration, len(list))
	end := make([]time.Duration, len(list))
	uses := make([]profile, len(n.Capacity))
	for _, v := range list {
		a := &n.Activities[v]
		t := time.Duration(0)
		for _, w := range a.After {
			t = max(t, end[w.On]+w.For)
		}
		for again := true; again; {
			again = false
			t = n.Day.Start(t, a.Takes)
			end[v] = n.Day.End(t, a.Takes)
			for _, u := range a.Uses {
				if free := uses[u.Resource].free(t, end[v], n.Capacity[u.Resource]-u.Amount); free > t {
					t, again = free, true
					break
				}
			}
		}
		start[v] = t
		for _, u := range a.Uses {
			uses[u.Resource].add(t, end[v], u.Amount)
		}
	}
	return n.ends(start)
}

// late starts the activities of a list, which has each before those it waits for,
// as late as the end of the project allows, and returns their starts.
func (n *network) late(list []int, end time.Duration) []time.Duration {
	start := make([]time.Duration, len(list))
	uses := make([]profile, len(n.Capacity))
	for _, v := range list {
		a := &n.Activities[v]
		by := end
		for _, w := range n.next[v] {
			by = min(by, start[w.On]-w.For)
		}
		for again := true; again; {
			again = false
			start[v] = n.Day.latest(by, a.Takes)
			for _, u := range a.Uses {
				// Time runs backwards in these profiles.
				from, to := -n.Day.End(start[v], a.Takes), -start[v]
				if free := uses[u.Resource].free(from, to, n.Capacity[u.Resource]-u.Amount); free > from {
					by, again = -free, true
					break
				}
			}
		}
		for _, u := range a.Uses {
			uses[u.Resource].add(-n.Day.End(start[v], a.Takes), -start[v], u.Amount)
		}
	}
	return start
}
