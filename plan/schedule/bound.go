package schedule

import (
	"cmp"
	"slices"
	"time"
)

// earliest are the earliest starts of all activities with unlimited resources,
// within working hours.
func (n *network) earliest() []time.Duration {
	early := make([]time.Duration, len(n.order))
	for _, v := range n.order {
		a := &n.Activities[v]
		for _, w := range a.After {
			early[v] = max(early[v], n.Day.End(early[w.On], n.Activities[w.On].Takes)+w.For)
		}
		early[v] = n.Day.Start(early[v], a.Takes)
	}
	return early
}

// latest are the latest starts at which all activities end by end.
func (n *network) latest(end time.Duration) []time.Duration {
	late := make([]time.Duration, len(n.order))
	for i := len(n.order) - 1; i >= 0; i-- {
		v := n.order[i]
		by := end
		for _, w := range n.next[v] {
			by = min(by, late[w.On]-w.For)
		}
		late[v] = n.Day.latest(by, n.Activities[v].Takes)
	}
	return late
}

// maxBounded is the number of activities up to which work is compared between all
// pairs of times; above it only the longest chain and the sum of all work count.
const maxBounded = 1200

// Bound is a lower bound on the length of every schedule of the project, from
// chains of waits and sums of work within intervals. It is at most known, the
// length of a schedule. It fails where [Project.Schedule] does.
func (p *Project) Bound(known time.Duration) (time.Duration, error) {
	n, err := p.network()
	if err != nil {
		return 0, err
	}
	return n.bound(known), nil
}

// bound is a lower bound on the length of every schedule: with less, some
// interval would hold more work than can be done in it. It is at most known, the
// length of a schedule.
func (n *network) bound(known time.Duration) time.Duration {
	low := time.Duration(-1) // refuted
	for high := known; high-low > 1; {
		mid := low + (high-low)/2
		if n.refuted(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low + 1
}

// refuted reports whether the possible start times and the sums of work prove
// that no schedule can end by a time.
func (n *network) refuted(end time.Duration) bool {
	early, late := n.earliest(), n.latest(end)
	var all []job
	for v, a := range n.Activities {
		if early[v] > late[v] {
			return true
		}
		all = append(all, job{early[v], n.Day.End(late[v], a.Takes), v})
	}
	if len(all) > maxBounded {
		return n.overworked(all, end)
	}
	slices.SortFunc(all, latestFrom)
	return n.crowded(all)
}

// job is an activity that has to be done within an interval.
type job struct {
	from, by time.Duration
	activity int
}

func latestFrom(a, b job) int { return cmp.Compare(b.from, a.from) }

// overworked reports whether the demand on a resource exceeds its capacity.
func (n *network) overworked(all []job, end time.Duration) bool {
	for r, capacity := range n.Capacity {
		work := time.Duration(0)
		for _, j := range all {
			work += n.Activities[j.activity].Takes * time.Duration(n.amount(j.activity, r))
		}
		if exceeds(work, n.Day.Working(0, end), capacity) {
			return true
		}
	}
	return false
}

// crowded reports whether the jobs within some interval need more than a resource
// gives in it. The jobs come with the latest from first.
func (n *network) crowded(all []job) bool {
	var users []job
	var ends []time.Duration
	for r, capacity := range n.Capacity {
		users, ends = users[:0], ends[:0]
		for _, j := range all {
			if n.Activities[j.activity].Takes > 0 && n.amount(j.activity, r) > 0 {
				users, ends = append(users, j), append(ends, j.by)
			}
		}
		slices.Sort(ends)
		for _, by := range slices.Compact(ends) {
			work := time.Duration(0)
			for _, j := range users {
				if j.by > by {
					continue
				}
				work += n.Activities[j.activity].Takes * time.Duration(n.amount(j.activity, r))
				if exceeds(work, n.Day.Working(j.from, by), capacity) {
					return true
				}
			}
		}
	}
	return false
}

// exceeds is work > room * capacity, for work of at least 0, avoiding the
// product, which could overflow.
func exceeds(work, room time.Duration, capacity int) bool {
	return work > 0 && (work-1)/time.Duration(capacity) >= room
}

// amount is how much of a resource an activity holds.
func (n *network) amount(activity, resource int) int {
	for _, u := range n.Activities[activity].Uses {
		if u.Resource == resource {
			return u.Amount
		}
	}
	return 0
}
