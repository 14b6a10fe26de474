package plan

import (
	"container/heap"
	"slices"

	"dryfit/kits"
)

// ranking gives every step its place in a first order: the order of the file,
// with sub-builds whole and before they are joined, wires and tasks as soon as
// they can be done, mirrored parts side by side, and fragile outside detail last.
// It respects all needs, but not all clauses.
//
// A step's key depends on that step, its build and what it needs, never on its
// neighbours. So a piece on which nothing depends can be added to a kit without
// moving any other: the first order stays the same but for the new step.
type ranking struct {
	r      *Constraints
	b      *builds
	before [][]int // step -> the steps it needs
	after  [][]int
	at     []float64 // step -> place in the file
	state  []int8    // of at: 0 unknown, 1 being computed, 2 known
	anchor []float64 // build -> where its block goes
	late   []bool    // step -> left to the end
	keys   [][]float64
}

func (r *Constraints) rank(b *builds) []int {
	k := &ranking{r: r, b: b, late: r.lateSteps(), before: make([][]int, len(r.Steps)), after: make([][]int, len(r.Steps)),
		at: make([]float64, len(r.Steps)), state: make([]int8, len(r.Steps))}
	leaves := r.leaves()
	for _, n := range slices.Concat(r.Needs, leaves.needs(r)) {
		if leaves.leaf[n.Before] && r.forCoat(n) {
			continue // moved in front of the coat later
		}
		k.before[n.After] = append(k.before[n.After], n.Before)
		k.after[n.Before] = append(k.after[n.Before], n.After)
	}
	for v := range r.Steps {
		k.place(v)
	}
	k.blocks()
	k.keys = make([][]float64, len(r.Steps))
	for v := range r.Steps {
		k.keys[v] = k.key(v)
	}
	order := leaves.beforeCoats(r, k.sort())
	rank := make([]int, len(order))
	for i, v := range order {
		rank[v] = i
	}
	return rank
}

// place computes where a step belongs in file order. A join goes where it is
// written, the second of two mirrored parts right behind the first. A wire or
// task goes behind the last step it needs or, if it needs none, before the first
// that needs it.
func (k *ranking) place(v int) float64 {
	if k.state[v] == 2 {
		return k.at[v]
	}
	if k.state[v] == 1 {
		return 0 // a cycle of tasks, reported elsewhere
	}
	k.state[v] = 1
	k.at[v] = k.placed(v)
	k.state[v] = 2
	return k.at[v]
}

// Shares of the distance between two joins of the file.
const (
	beside = 0.25 // a mirrored part beside its twin
	behind = 0.5  // a wire or task behind what it needs
	tick   = 1e-6 // keeps several of them in file order
)

func (k *ranking) placed(v int) float64 {
	s := k.r.Steps[v]
	if s.Join != nil {
		if twin := k.twin(s.Join); twin >= 0 && twin < v {
			return float64(twin) + beside
		}
		return float64(v)
	}
	last := -1.0
	for _, w := range k.before[v] {
		last = max(last, k.place(w))
	}
	if last >= 0 {
		return last + tick*float64(v+1)
	}
	first := float64(len(k.r.Steps))
	for _, w := range k.after[v] {
		first = min(first, k.place(w))
	}
	return first - behind + tick*float64(v)
}

// twin is the step that fits the mirror image of what a join fits, -1 if none.
func (k *ranking) twin(j *kits.Join) int {
	if j.IsClose() {
		return -1
	}
	pc := k.r.Kit.Pieces[j.Pieces[0]]
	if pc.Part.Pair == nil {
		return -1
	}
	twin := k.r.Kit.Fitted(k.r.Kit.Copies(pc.Part.Pair)[pc.Copy-1])
	if twin == nil || twin == j {
		return -1
	}
	return k.r.number.Join[twin]
}

// blocks places each build at its first step that others depend on or, if there
// is none, where it is joined.
func (k *ranking) blocks() {
	const none = 1e18
	k.anchor = make([]float64, len(k.b.list))
	for u := range k.anchor {
		k.anchor[u] = none
	}
	for v := range k.r.Steps {
		if len(k.after[v]) == 0 && len(k.r.IntoSpaces(v)) == 0 {
			continue
		}
		for u := k.b.of[v]; u > 0; u = k.b.list[u].Parent {
			k.anchor[u] = min(k.anchor[u], k.at[v])
		}
	}
	for u := 1; u < len(k.anchor); u++ {
		if k.anchor[u] == none {
			k.anchor[u] = k.at[k.b.list[u].Join] - tick
		}
	}
}

// key is compared number by number: the blocks from the main build down, then the
// step in its own build.
func (k *ranking) key(v int) []float64 {
	var key []float64
	chain := k.b.chain(k.b.of[v])
	for i := len(chain) - 2; i >= 0; i-- { // the main build itself is not a block
		key = append(key, 0, k.anchor[chain[i]])
	}
	late := 0.0
	if k.late[v] {
		late = 1
	}
	return append(key, late, k.at[v], float64(v))
}

// sort orders the steps by key, subject to the needs. A sub-build is never
// delayed, but what joins it waits for all its steps where possible.
func (k *ranking) sort() []int {
	n := len(k.r.Steps)
	hard, soft := make([]int, n), make([]int, n)
	for v := range n {
		hard[v] = len(k.before[v])
	}
	for v := range n {
		for u := k.b.of[v]; u > 0; u = k.b.list[u].Parent {
			soft[k.b.list[u].Join]++
		}
	}
	done := make([]bool, n)
	q := &byKey{keys: k.keys}
	offer := func(v int) {
		if hard[v] == 0 && soft[v] == 0 && !done[v] {
			heap.Push(q, v)
		}
	}
	for v := range n {
		offer(v)
	}
	var order []int
	for len(order) < n {
		v := -1
		for q.Len() > 0 && v < 0 {
			if w := heap.Pop(q).(int); !done[w] {
				v = w
			}
		}
		if v < 0 {
			v = k.forced(hard, done)
		}
		done[v] = true
		order = append(order, v)
		for _, w := range k.after[v] {
			hard[w]--
			offer(w)
		}
		for u := k.b.of[v]; u > 0; u = k.b.list[u].Parent {
			j := k.b.list[u].Join
			soft[j]--
			offer(j)
		}
	}
	return order
}

// forced picks the next step when only preferences are left unmet or, in a kit
// that has no order, needs.
func (k *ranking) forced(hard []int, done []bool) int {
	best := -1
	for v := range done {
		if done[v] {
			continue
		}
		if best < 0 || hard[v] == 0 && hard[best] != 0 ||
			(hard[v] == 0) == (hard[best] == 0) && slices.Compare(k.keys[v], k.keys[best]) < 0 {
			best = v
		}
	}
	return best
}

// byKey is a heap of steps, the one with the least key on top.
type byKey struct {
	steps []int
	keys  [][]float64
}

func (q *byKey) Len() int { return len(q.steps) }
func (q *byKey) Less(i, j int) bool {
	return slices.Compare(q.keys[q.steps[i]], q.keys[q.steps[j]]) < 0
}
func (q *byKey) Swap(i, j int) { q.steps[i], q.steps[j] = q.steps[j], q.steps[i] }
func (q *byKey) Push(x any)    { q.steps = append(q.steps, x.(int)) }
func (q *byKey) Pop() any {
	v := q.steps[len(q.steps)-1]
	q.steps = q.steps[:len(q.steps)-1]
	return v
}
