package kits

// ties records which pieces joins tie together.
type ties struct {
	group []int // union by parent link
	next  [][]int
}

func newTies(n int) *ties {
	t := &ties{make([]int, n), make([][]int, n)}
	for i := range t.group {
		t.group[i] = i
	}
	return t
}

func (t *ties) find(a int) int {
	for t.group[a] != a {
		t.group[a] = t.group[t.group[a]]
		a = t.group[a]
	}
	return a
}

// join ties a and b together. When they are tied already it changes nothing and
// returns the chain of pieces from a to b.
func (t *ties) join(a, b int) []int {
	if ra, rb := t.find(a), t.find(b); ra != rb {
		t.group[ra] = rb
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
