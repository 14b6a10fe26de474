package kits

import "dryfit/kits/disjoint"

// ties records which pieces joins tie together.
type ties struct {
	group *disjoint.Sets
	next  [][]int
}

func newTies(n int) *ties { return &ties{disjoint.New(n), make([][]int, n)} }

// join ties a and b together. If they are tied already it changes nothing and
// returns the chain of pieces from a to b.
func (t *ties) join(a, b int) []int {
	if t.group.Join(a, b) {
		t.next[a] = append(t.next[a], b)
		t.next[b] = append(t.next[b], a)
		return nil
	}
	return t.chain(a, b)
}

func (t *ties) chain(a, b int) []int {
	from := map[int]int{b: b}
	queue := []int{b}
	for len(queue) > 0 && queue[0] != a {
		at := queue[0]
		queue = queue[1:]
		for _, to := range t.next[at] {
			if _, seen := from[to]; !seen {
				from[to] = at
				queue = append(queue, to)
			}
		}
	}
	chain := []int{a}
	for at := a; at != b; at = from[at] {
		chain = append(chain, from[at])
	}
	return chain
}
