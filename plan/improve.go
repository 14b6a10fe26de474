package plan

// Bounds on the search for a better order. Within them a kit of a few hundred
// pieces is searched until no single move helps.
const (
	maxImproved = 2000 // steps; larger kits keep the first order
	maxSweeps   = 8
	farthest    = 150 // places that a step moves at once
)

// improver moves single steps to cheaper places, as long as the order stays valid.
type improver struct {
	c       *coster
	seq     []int
	at      []int   // step -> index in seq, -1 if it is not moved
	need    bits    // pairs (before, after)
	clauses [][]int // members of each clause
	owner   []int   // clause -> its step
	own     [][]int // step -> its clauses
	member  [][]int // step -> the clauses it is a member of
}

// run repeats sweeps over the steps until nothing improves.
func (m *improver) run() {
	for range maxSweeps {
		better := false
		for _, v := range append([]int(nil), m.seq...) {
			better = m.move(v) || better
		}
		if !better {
			return
		}
	}
}

// step returns the step at a place of the sequence, -1 outside.
func (m *improver) step(i int) int {
	if i < 0 || i >= len(m.seq) {
		return -1
	}
	return m.seq[i]
}

// move puts v where it costs least, and reports whether that is elsewhere.
func (m *improver) move(v int) bool {
	i := m.at[v]
	l, r := m.step(i-1), m.step(i+1)
	without := -m.c.neighbourCost(l, v)
	if r >= 0 {
		without += m.c.neighbourCost(l, r) - m.c.neighbourCost(v, r)
	}
	const enough = 1e-9
	best, bestAt := -enough, i
	try := func(k, a, b int, pairs float64) {
		d := without + pairs + m.c.neighbourCost(a, v)
		if b >= 0 {
			d += m.c.neighbourCost(v, b) - m.c.neighbourCost(a, b)
		}
		if d < best {
			best, bestAt = d, k
		}
	}
	pairs := 0.0
	left := m.membersAfter(v, i)
	for k := i + 1; k < len(m.seq) && k <= i+farthest; k++ {
		y := m.seq[k]
		if !m.passLater(v, y, left) {
			break
		}
		pairs += m.c.pairCost(y, v) - m.c.pairCost(v, y)
		try(k, y, m.step(k+1), pairs)
	}
	pairs = 0
	for k := i - 1; k >= 0 && k >= i-farthest; k-- {
		y := m.seq[k]
		if !m.passEarlier(v, y) {
			break
		}
		pairs += m.c.pairCost(v, y) - m.c.pairCost(y, v)
		try(k, m.step(k-1), y, pairs)
	}
	if bestAt == i {
		return false
	}
	m.shift(i, bestAt)
	return true
}

// shift moves the step at place i to place k.
func (m *improver) shift(i, k int) {
	v := m.seq[i]
	if k > i {
		copy(m.seq[i:k], m.seq[i+1:k+1])
	} else {
		copy(m.seq[k+1:i+1], m.seq[k:i])
	}
	m.seq[k] = v
	for p := min(i, k); p <= max(i, k); p++ {
		m.at[m.seq[p]] = p
	}
}

// membersAfter counts for each clause of v the members after place i.
func (m *improver) membersAfter(v, i int) map[int]int {
	left := map[int]int{}
	for _, c := range m.own[v] {
		for _, w := range m.clauses[c] {
			if m.at[w] > i {
				left[c]++
			}
		}
	}
	return left
}

// passLater reports whether v may move behind y, the next step. It keeps left up
// to date.
func (m *improver) passLater(v, y int, left map[int]int) bool {
	if m.need.has(v, y) {
		return false
	}
	for _, c := range m.member[y] {
		if m.owner[c] == v {
			if left[c]--; left[c] == 0 {
				return false
			}
		}
	}
	return true
}

// passEarlier reports whether v may move ahead of y, the step before it.
func (m *improver) passEarlier(v, y int) bool {
	if m.need.has(y, v) {
		return false
	}
	for _, c := range m.member[v] {
		if m.owner[c] != y {
			continue
		}
		other := false
		for _, w := range m.clauses[c] {
			other = other || w != v && m.at[w] > m.at[y]
		}
		if !other {
			return false
		}
	}
	return true
}
