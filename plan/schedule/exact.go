package schedule

import (
	"cmp"
	"math/bits"
	"slices"
	"time"
)

// maxExact is the number of activities that the exact search can take: its sets are
// words of bits.
const maxExact = 64

// search looks for a shortest schedule, depth first, by starting one activity
// after the other in order of start. It leaves a branch
//
//   - that cannot end before the best schedule known, by windows and sums of work;
//   - in which another activity could have been done before the one started;
//   - that has started the same activities as an earlier branch, and is nowhere
//     ahead of it (the cutset rule of E. Demeulemeester and W. Herroelen, "A
//     branch-and-bound procedure for the multiple resource-constrained project
//     scheduling problem", Management Science 38, 1992).
//
// In each case something at least as good is found in another branch, from the same
// state or from the earlier one, so that what is left is exact.
type search struct {
	*network
	best  *Schedule
	bound time.Duration   // the search ends when it is reached
	late  []time.Duration // the latest starts with which the best is bettered
	nodes int             // that may still be visited
	seen  map[uint64][]state
	lags  []time.Duration // activity -> the longest wait behind it

	now        time.Duration // the last start
	done       uint64        // started
	start, end []time.Duration
}

// state is the progress of a set of activities: what could still hold up others.
type state struct {
	now  time.Duration
	open []open
}

type open struct {
	activity int
	end      time.Duration
}

// exact looks for a schedule shorter than best, within a number of nodes, and
// returns the shortest one and a bound.
func (n *network) exact(best *Schedule, bound time.Duration, nodes int) (*Schedule, time.Duration) {
	count := len(n.order)
	if count > maxExact {
		return best, bound
	}
	s := &search{network: n, best: best, bound: bound, nodes: nodes, seen: map[uint64][]state{}, lags: make([]time.Duration, count),
		start: make([]time.Duration, count), end: make([]time.Duration, count)}
	for v := range s.lags {
		for _, w := range n.next[v] {
			s.lags[v] = max(s.lags[v], w.For)
		}
	}
	s.late = n.latest(best.Length - 1)
	s.look()
	if s.nodes > 0 {
		return s.best, s.best.Length
	}
	return s.best, bound
}

// look tries every continuation of what was started.
func (s *search) look() {
	if s.done == 1<<len(s.order)-1 {
		s.keep()
		return
	}
	if s.nodes--; s.nodes <= 0 || s.hopeless() || s.known() {
		return
	}
	now := s.now
	for _, b := range s.branches() {
		if s.nodes <= 0 || s.best.Length <= s.bound {
			break
		}
		s.start[b.activity], s.end[b.activity] = b.from, b.by
		s.now, s.done = b.from, s.done|1<<b.activity
		s.look()
		s.now, s.done = now, s.done&^(1<<b.activity)
	}
}

// keep records a finished, shorter schedule.
func (s *search) keep() {
	if found := s.ends(slices.Clone(s.start)); found.Length < s.best.Length {
		s.best = found
		s.late = s.latest(found.Length - 1)
	}
}

// branches lists what may start next, each as early as possible, the most urgent
// first.
func (s *search) branches() []job {
	var list []job
	soon := time.Duration(-1) // the first end among them
	for v, a := range s.Activities {
		if s.done>>v&1 == 1 || slices.ContainsFunc(a.After, func(w Wait) bool { return s.done>>w.On&1 == 0 }) {
			continue
		}
		t := s.earliest(v)
		j := job{t, s.Day.End(t, a.Takes), v}
		list = append(list, j)
		if soon < 0 || j.by < soon {
			soon = j.by
		}
	}
	list = slices.DeleteFunc(list, func(j job) bool { return j.from >= soon && j.by > soon })
	slices.SortStableFunc(list, func(a, b job) int {
		return cmp.Or(cmp.Compare(s.late[a.activity], s.late[b.activity]), cmp.Compare(a.from, b.from))
	})
	return list
}

// earliest is the first time, not before the last start, at which an activity may
// start beside what is under way.
func (s *search) earliest(v int) time.Duration {
	a := &s.Activities[v]
	t := s.now
	for _, w := range a.After {
		t = max(t, s.end[w.On]+w.For)
	}
	for {
		t = s.Day.Start(t, a.Takes)
		next := s.tooMuch(a, t)
		if next == 0 {
			return t
		}
		t = next
	}
}

// tooMuch returns 0 if the resources of an activity are free at a time, or else
// the next time at which some of the missing ones are released.
func (s *search) tooMuch(a *Activity, t time.Duration) time.Duration {
	if a.Takes == 0 {
		return 0
	}
	for _, u := range a.Uses {
		left, next := s.Capacity[u.Resource]-u.Amount, time.Duration(0)
		for set := s.done; set != 0; set &= set - 1 {
			w := bits.TrailingZeros64(set)
			if s.end[w] <= t {
				continue
			}
			if used := s.amount(w, u.Resource); used > 0 {
				left -= used
				if next == 0 || s.end[w] < next {
					next = s.end[w]
				}
			}
		}
		if left < 0 {
			return next
		}
	}
	return 0
}

// hopeless reports whether what was started cannot end before the best schedule.
func (s *search) hopeless() bool {
	var all []job
	early := make([]time.Duration, len(s.order))
	for _, v := range s.order {
		a := &s.Activities[v]
		if s.done>>v&1 == 1 {
			if s.start[v] > s.late[v] {
				return true
			}
			if s.end[v] > s.now {
				early[v] = s.start[v]
				all = append(all, job{s.start[v], s.end[v], v})
			}
			continue
		}
		t := s.now
		for _, w := range a.After {
			end := s.end[w.On]
			if s.done>>w.On&1 == 0 {
				end = s.Day.End(early[w.On], s.Activities[w.On].Takes)
			}
			t = max(t, end+w.For)
		}
		early[v] = s.Day.Start(t, a.Takes)
		if early[v] > s.late[v] {
			return true
		}
		all = append(all, job{early[v], s.Day.End(s.late[v], a.Takes), v})
	}
	slices.SortFunc(all, latestFrom)
	return s.crowded(all)
}

// known reports whether an earlier state was at least as far with the same activities,
// and remembers this one if not.
func (s *search) known() bool {
	here := state{now: s.now}
	for set := s.done; set != 0; set &= set - 1 {
		v := bits.TrailingZeros64(set)
		if s.end[v]+s.lags[v] > s.now {
			here.open = append(here.open, open{v, s.end[v]})
		}
	}
	before := s.seen[s.done]
	if slices.ContainsFunc(before, s.covers) {
		return true
	}
	s.seen[s.done] = append(before, here)
	return false
}

// covers reports whether all that can follow here could follow an earlier state as well.
func (s *search) covers(x state) bool {
	if x.now > s.now {
		return false
	}
	for _, o := range x.open {
		if o.end > max(s.end[o.activity], s.now-s.lags[o.activity]) {
			return false
		}
	}
	return true
}
