package schedule

import (
	"cmp"
	"slices"
	"time"
)

// maxPassWork bounds the work of trying priority rules, in activities visited: a
// schedule costs about the square of their number.
const maxPassWork = 60_000_000

// Schedule looks for a short schedule. first lists the activities in the
// preferred order, each after those it waits for: among schedules that are longer
// than the shortest one found by no more than the Tolerance, the one nearest to
// it is chosen.
//
// It tries first itself, then orders in which urgent activities come earlier and
// earlier, then other priority rules with forward and backward passes (K. Y. Li
// and R. J. Willis, "An iterative scheduling technique for resource-constrained
// project scheduling", European Journal of Operational Research 56, 1992). When
// these leave a gap to what is proven and there are at most 64 activities, an
// exact search may visit the given number of nodes. It fails when activities wait
// for one another in a cycle or need more than there is, and with [ErrTooLong].
func (p *Project) Schedule(first []int, nodes int) (*Schedule, error) {
	n, err := p.network()
	if err != nil {
		return nil, err
	}
	found := []*Schedule{n.serial(first)}
	bound := n.bound(found[0].Length)
	passes := maxPassWork / max(1, len(first)*len(first))
	for _, rank := range n.urgent(first, found[0].Length) {
		if passes > 0 && shortest(found).Length > bound {
			passes--
			found = append(found, n.serial(n.byRank(rank)))
		}
	}
	best := shortest(found)
	if best.Length > bound {
		best = n.improve(best, bound, passes)
	}
	if best.Length > bound {
		best, bound = n.exact(best, bound, nodes)
	}
	most := best.Length + time.Duration(p.Tolerance*float64(best.Length))
	i := slices.IndexFunc(append(found, best), func(s *Schedule) bool { return s.Length <= most })
	best = append(found, best)[i]
	best.Bound = bound
	return best, nil
}

func shortest(list []*Schedule) *Schedule {
	return slices.MinFunc(list, func(a, b *Schedule) int { return cmp.Compare(a.Length, b.Length) })
}

// grains are the intervals within which activities count as equally urgent.
var grains = []time.Duration{4 * fullDay, 2 * fullDay, fullDay, 12 * time.Hour, 4 * time.Hour, time.Hour, time.Minute}

// urgent ranks the activities by their latest starts, rounded to a grain, and
// equally urgent ones by their place in first.
func (n *network) urgent(first []int, end time.Duration) [][]int {
	at := make([]int, len(first))
	for i, v := range first {
		at[v] = i
	}
	late := n.latest(end)
	var ranks [][]int
	for _, grain := range grains {
		if grain > end {
			continue
		}
		key := make([]time.Duration, len(late))
		for v := range late {
			key[v] = late[v] / grain
		}
		ranks = append(ranks, ranksBy(key, at))
	}
	return ranks
}

func ranksBy(key []time.Duration, at []int) []int {
	rank := make([]int, len(key))
	for i, v := range ByTime(key, at) {
		rank[v] = i
	}
	return rank
}

// improve tries priority rules and forward and backward passes, until the bound is
// reached or the passes are used up.
func (n *network) improve(best *Schedule, bound time.Duration, passes int) *Schedule {
	try := func(s *Schedule) {
		for passes > 0 && best.Length > bound {
			passes--
			if s.Length < best.Length {
				best = s
			}
			last := ByTime(s.End, n.at)
			slices.Reverse(last)
			again := n.serial(ByTime(n.late(last, s.Length), n.at))
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

// rules are ranks of the activities, the most urgent first: by latest start, by
// latest end, by the length of the work and waits that follow, by how much work
// waits, by slack.
func (n *network) rules(end time.Duration) [][]int {
	early, late := n.earliest(), n.latest(end)
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
		ranks = append(ranks, ranksBy(key, nil))
	}
	return ranks
}
