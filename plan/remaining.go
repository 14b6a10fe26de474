package plan

import (
	"slices"

	"dryfit/plan/precedence"
)

// Remaining is what remains of a kit once some of its steps are done, in the
// proven order or not. It covers only what can still be done: a done step is not
// blamed for steps that should have come before it.
type Remaining struct {
	Done       []bool     // step
	Relaxation Relaxation // what the remaining orders ask of the builder
	Stuck      []int      // the steps that can no longer be done, ascending
	// Narrowed are steps that now need turning or opening something again where
	// the sequence does not.
	Narrowed []int

	q       *Sequence
	narrow  bool               // each access has what it has in the sequence
	relaxed []Relaxation       // of each access
	system  *precedence.System // of the steps, then of helpers for routes
	done    []bool             // of both
	left    *precedence.System // what is left of system
	nodes   []int              // what can still be done, in order, helpers included
	loses   map[int][]int
}

// Remaining computes what remains when the steps of done are done. It asks no
// more of the builder than the sequence does, unless there is no other order.
func (q *Sequence) Remaining(done []bool) *Remaining {
	q.Solution.Constraints.asked = 0
	s := q.Solution
	best := q.remaining(done, s.Relaxation, true)
	first := best
	for _, a := range relaxations {
		if len(best.Stuck) == 0 {
			break
		}
		if s.Relaxation.Turning && !a.Turning || s.Relaxation.Reopen && !a.Reopen {
			continue
		}
		if x := q.remaining(done, a, false); len(x.Stuck) < len(best.Stuck) {
			best = x
		}
	}
	for _, v := range first.Stuck {
		if _, stuck := slices.BinarySearch(best.Stuck, v); !stuck && len(first.Inaccessible(v)) > 0 {
			best.Narrowed = append(best.Narrowed, v)
		}
	}
	return best
}

// remaining is Remaining under one relaxation.
func (q *Sequence) remaining(done []bool, a Relaxation, narrow bool) *Remaining {
	o := q.routesUnder(a, narrow)
	x := &Remaining{narrow: narrow, Done: done, Relaxation: a, q: q, relaxed: o.relaxed, system: o.system, done: make([]bool, o.system.Len())}
	copy(x.done, done)
	access := q.Solution.Constraints.Access
	for i, first := range o.helpers {
		for k := range access[i].Routes {
			x.done[first+k] = done[access[i].Step] // nothing travels there any more
		}
	}
	x.left, x.loses = o.system.After(x.done), map[int][]int{}
	taken, stuck := x.left.Peel(x.rank())
	if q.Solution.Constraints.learn(x.undone(taken), a) {
		q.free = nil
		return q.remaining(done, a, narrow)
	}
	slices.Reverse(taken)
	x.nodes = slices.DeleteFunc(taken, func(v int) bool { return x.done[v] })
	x.Stuck = x.steps(stuck)
	return x
}

// routes is the system that leaves every access all its routes. It does not
// depend on what is done, so it is built once per relaxation.
type routes struct {
	system  *precedence.System
	helpers map[int]int
	relaxed []Relaxation // of each access
}

// routesUnder is routes under one relaxation for all accesses or, with narrow,
// under that of each access in the sequence.
func (q *Sequence) routesUnder(a Relaxation, narrow bool) routes {
	key := routesKey{a, narrow}
	if o, known := q.free[key]; known {
		return o
	}
	r := q.Solution.Constraints
	o := routes{relaxed: q.Solution.Relaxed}
	if !narrow {
		o.relaxed = r.all(a)
	}
	o.system, o.helpers = r.choices(o.relaxed)
	if q.free == nil {
		q.free = map[routesKey]routes{}
	}
	q.free[key] = o
	return o
}

type routesKey struct {
	relaxation Relaxation
	narrow     bool
}

// undone lists those of some steps and helpers that are steps still to be done.
func (x *Remaining) undone(list []int) []int {
	return slices.DeleteFunc(x.steps(slices.Clone(list)), func(v int) bool { return x.done[v] })
}

// steps drops the helpers from a list.
func (x *Remaining) steps(list []int) []int {
	return slices.DeleteFunc(list, func(v int) bool { return v >= len(x.Done) })
}

// Next lists the steps that can be done now without losing any other: all they
// need is done, and the others can still follow. They are in the order of
// [Remaining.Order].
func (x *Remaining) Next() []int {
	return x.ready(func(v int) bool { return len(x.Loses(v)) == 0 })
}

// Held lists the steps that have all they need but would shut out others if done
// now.
func (x *Remaining) Held() []int {
	return x.ready(func(v int) bool { return len(x.Loses(v)) > 0 })
}

func (x *Remaining) ready(which func(v int) bool) []int {
	var list []int
	ready := x.steps(x.system.Ready(x.done))
	for _, v := range x.Order() {
		if _, is := slices.BinarySearch(ready, v); is && which(v) {
			list = append(list, v)
		}
	}
	return list
}

// Loses lists the steps that could no longer be done after v, which has all it needs.
func (x *Remaining) Loses(v int) []int {
	list, known := x.loses[v]
	if !known {
		list = slices.DeleteFunc(x.stuckAfter(v), func(w int) bool {
			_, stuck := slices.BinarySearch(x.Stuck, w)
			return stuck
		})
		x.loses[v] = list
	}
	return list
}

// stuckAfter lists the steps that could not be done any more after v. Where joins may be
// opened again, the clauses do not say all of it, so what would remain is found out.
func (x *Remaining) stuckAfter(v int) []int {
	if !x.Relaxation.Reopen {
		return x.steps(x.left.Before(v))
	}
	done := slices.Clone(x.Done)
	done[v] = true
	return slices.Clone(x.q.remaining(done, x.Relaxation, x.narrow).Stuck)
}

// Order orders what can still be done, as close to the whole sequence as the done
// steps allow.
func (x *Remaining) Order() []int {
	var list []int
	for _, v := range x.nodes {
		if v < len(x.Done) {
			list = append(list, v)
		}
	}
	return list
}

// rank is the place of each step in the sequence. Helpers are removed at once.
func (x *Remaining) rank() []int {
	rank := slices.Repeat([]int{len(x.Done) + 1}, x.system.Len())
	copy(rank, x.q.Place)
	return rank
}

// Early is a step that is done while one that should have come before it is not.
type Early struct {
	Need
	Reason Reason
}

// Early lists what was done too early, by the needs of the kit.
func (x *Remaining) Early() []Early {
	r := x.q.Solution.Constraints
	var list []Early
	for _, n := range r.Needs {
		if x.Done[n.After] && !x.Done[n.Before] {
			st := r.Statements[n.Statement]
			list = append(list, Early{n, ReasonAt(st.Text, st.At)})
		}
	}
	return list
}

// Chain gives what can still be done as a precedence network: each node with
// those it follows, such that every order which respects it is valid. It leaves
// each piece the way in that [Remaining.Order] leaves open longest. Nodes are in
// a valid order; those numbered from the number of steps up are helpers, not
// steps.
func (x *Remaining) Chain() (nodes []int, before [][]int) {
	nodes = x.nodes
	before = make([][]int, x.system.Len())
	for _, p := range x.system.Pairs(nodes) {
		before[p[1]] = append(before[p[1]], p[0])
	}
	order := x.Order()
	for i, v := range order {
		if x.detour(order[:i], v) == nil {
			continue
		}
		for _, w := range order[i+1:] {
			before[w] = append(before[w], v) // so that what is taken off for it can be
		}
	}
	return nodes, before
}
