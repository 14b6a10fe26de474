package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"dryfit/plan/queue"
)

// network is a project laid out for passes over it.
type network struct {
	*Project
	order []int    // each activity comes after those it waits for
	at    []int    // activity -> its index in order
	next  [][]Wait // activity -> what waits for it, with On the later activity
}

// network lays out a project for which a schedule exists.
func (p *Project) network() (*network, error) {
	n, err := newNetwork(p)
	if err == nil {
		err = p.check()
	}
	return n, err
}

func newNetwork(p *Project) (*network, error) {
	count := len(p.Activities)
	n := &network{p, make([]int, 0, count), make([]int, count), make([][]Wait, count)}
	waits := make([]int, count)
	for v, a := range p.Activities {
		for _, w := range a.After {
			n.next[w.On] = append(n.next[w.On], Wait{v, w.For})
		}
		if waits[v] = len(a.After); waits[v] == 0 {
			n.order = append(n.order, v)
		}
	}
	for i := 0; i < len(n.order); i++ {
		v := n.order[i]
		n.at[v] = i
		for _, w := range n.next[v] {
			if waits[w.On]--; waits[w.On] == 0 {
				n.order = append(n.order, w.On)
			}
		}
	}
	if rest := count - len(n.order); rest > 0 {
		return nil, fmt.Errorf("%d of %d activities wait for one another in a cycle", rest, count)
	}
	return n, nil
}

// byRank lists the activities, each after those it waits for; of those that may
// come next, the one with the smallest rank is first. Ranks are distinct.
func (n *network) byRank(rank []int) []int {
	waits := make([]int, len(rank))
	next := queue.New(func(v, w int) bool { return rank[v] < rank[w] })
	for v, a := range n.Activities {
		if waits[v] = len(a.After); waits[v] == 0 {
			next.Push(v)
		}
	}
	list := make([]int, 0, len(rank))
	for !next.Empty() {
		v := next.Pop()
		list = append(list, v)
		for _, w := range n.next[v] {
			if waits[w.On]--; waits[w.On] == 0 {
				next.Push(w.On)
			}
		}
	}
	return list
}

// ByTime lists activities by time; ties go by their place in at, or by their
// number if at is nil.
func ByTime(time []time.Duration, at []int) []int {
	list := make([]int, len(time))
	for v := range list {
		list[v] = v
	}
	slices.SortStableFunc(list, func(v, w int) int {
		if c := cmp.Compare(time[v], time[w]); c != 0 || at == nil {
			return c
		}
		return at[v] - at[w]
	})
	return list
}
