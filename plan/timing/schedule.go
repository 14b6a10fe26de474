package timing

import (
	"slices"
	"time"
)

// maxPassWork bounds the work of trying priority rules, in activities looked at: a
// schedule costs about the square of their number.
const maxPassWork = 60_000_000

// Schedule looks for a short schedule. first is a list of the activities, each behind
// those it waits for: of schedules of one length that which follows it most closely is
// wanted, so another is taken only if it is shorter than what first gives.
//
// Priority rules with forward and backward passes (Li and Willis 1992) come first;
// when they leave a gap to what is proven and there are at most 64 activities, an exact
// search is given nodes places to look at. It fails when activities wait for one
// another in a ring or need more than there is, and with [ErrTooLong].
func (p *Project) Schedule(first []int, nodes int) (*Schedule, error) {
	n, err := newNetwork(p)
	if err != nil {
		return nil, err
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	best := n.serial(first)
	bound := n.bound(best.Length)
	if best.Length > bound {
		best = n.improve(best, bound)
	}
	best.Bound = bound
	if best.Length > bound {
		n.exact(best, nodes)
	}
	return best, nil
}

// improve tries priority rules and forward and backward passes, until the bound is
// reached or there is no more work to be spent.
func (n *network) improve(best *Schedule, bound time.Duration) *Schedule {
	passes := maxPassWork / max(1, len(n.order)*len(n.order))
	try := func(s *Schedule) {
		for passes > 0 && best.Length > bound {
			passes--
			if s.Length < best.Length {
				best = s
			}
			back := n.late(latestFirst(s.End, n.at), s.Length)
			again := n.serial(ByTime(back, n.at))
			if again.Length >= s.Length {
				return
			}
			s = again
		}
	}
	try(best)
	for _, rank := range n.rules(best.Length) {
		if passes > 0 && best.Length > bound {
			try(n.serial(n.byRank(rank)))
		}
	}
	return best
}

// latestFirst lists activities by end, the latest first.
func latestFirst(end []time.Duration, at []int) []int {
	list := ByTime(end, at)
	slices.Reverse(list)
	return list
}

// rules are ranks of the activities, the most urgent first: by latest start, by
// latest end, by how long the work and waits behind are, by how much work waits,
// by how much is free to be put off.
func (n *network) rules(end time.Duration) [][]int {
	early, late := n.windows(end)
	count := len(n.order)
	keys := make([][]time.Duration, 5)
	for i := range keys {
		keys[i] = make([]time.Duration, count)
	}
	for i := count - 1; i >= 0; i-- {
		v := n.order[i]
		takes := n.Activities[v].Takes
		keys[0][v], keys[1][v], keys[2][v] = late[v], late[v]+takes, late[v]-early[v]
		keys[3][v], keys[4][v] = -takes, -takes
		for _, w := range n.next[v] {
			keys[3][v] = min(keys[3][v], keys[3][w.On]-w.For-takes)
			keys[4][v] -= n.Activities[w.On].Takes
		}
	}
	var ranks [][]int
	for _, key := range keys {
		rank := make([]int, count)
		for i, v := range ByTime(key, nil) {
			rank[v] = i
		}
		ranks = append(ranks, rank)
	}
	return ranks
}
