package schedule

import (
	"cmp"
	"container/heap"
	"slices"
	"time"
)

// network is a project laid out for passes over it.
type network struct {
	*Project
	order []int    // each activity stands behind those it waits for
	at    []int    // activity -> its place in order
	next  [][]Wait // activity -> what waits for it, with On the later activity
}

func newNetwork(p *Project) (*network, error) {
	order, err := sequence(p.Activities)
	if err != nil {
		return nil, err
	}
	n := &network{p, order, make([]int, len(order)), make([][]Wait, len(order))}
	for i, v := range order {
		n.at[v] = i
	}
	for v, a := range p.Activities {
		for _, w := range a.After {
			n.next[w.On] = append(n.next[w.On], Wait{v, w.For})
		}
	}
	return n, nil
}

// serial starts the activities of a list one after the other, each at the earliest
// time that its waits, its resources and the day allow beside those before it in the
// list; the list has each behind those it waits for. It is the serial schedule
// generation scheme (Kelley 1963).
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

// late starts the activities of a list, which has each in front of those it waits
// for, as late as the end of the whole allows, and returns their starts.
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

// byRank lists the activities, each behind those it waits for, of those that may come
// next the one with the smallest rank first.
func (n *network) byRank(rank []int) []int {
	waits := make([]int, len(rank))
	q := &smallest{rank: rank}
	for v, a := range n.Activities {
		if waits[v] = len(a.After); waits[v] == 0 {
			q.list = append(q.list, v)
		}
	}
	heap.Init(q)
	list := make([]int, 0, len(rank))
	for len(q.list) > 0 {
		v := heap.Pop(q).(int)
		list = append(list, v)
		for _, w := range n.next[v] {
			if waits[w.On]--; waits[w.On] == 0 {
				heap.Push(q, w.On)
			}
		}
	}
	return list
}

// ByTime lists activities by their time; those of one time by their place in at, or by
// their number if at is nil.
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

// smallest is a heap of activities, the one with the smallest rank on top.
type smallest struct{ list, rank []int }

func (q *smallest) Len() int      { return len(q.list) }
func (q *smallest) Swap(i, j int) { q.list[i], q.list[j] = q.list[j], q.list[i] }
func (q *smallest) Push(x any)    { q.list = append(q.list, x.(int)) }
func (q *smallest) Pop() any {
	v := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return v
}

func (q *smallest) Less(i, j int) bool {
	v, w := q.list[i], q.list[j]
	if q.rank[v] != q.rank[w] {
		return q.rank[v] < q.rank[w]
	}
	return v < w
}
