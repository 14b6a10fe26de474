package plan

import (
	"slices"

	"dryfit/plan/precedence"
)

// Rest is what remains of a kit once some of its steps are done, in the sequence or
// not. What should have come before a done step and did not is not held against it:
// a rest is about what can still be done.
type Rest struct {
	Done      []bool    // step
	Allowance Allowance // what the orders that are left ask of the builder
	Stuck     []int     // the steps that none of them has any more, ascending
	// Narrowed are steps that can get in only by what the sequence does not ask for:
	// turning, or opening something again.
	Narrowed []int

	q      *Sequence
	allow  []Allowance        // of each access
	system *precedence.System // of the steps, then of helpers for routes
	done   []bool             // of both
	left   *precedence.System // what is left of system
	loses  map[int][]int
}

// Rest finds out what remains when the steps of done are done. It asks no more of the
// builder than the sequence does, unless only more than that leaves an order.
func (q *Sequence) Rest(done []bool) *Rest {
	s := q.Solution
	best := q.rest(done, s.Allowance, true)
	first := best
	for _, a := range allowances {
		if len(best.Stuck) == 0 {
			break
		}
		if s.Allowance.Turning && !a.Turning || s.Allowance.Reopen && !a.Reopen {
			continue
		}
		if x := q.rest(done, a, false); len(x.Stuck) < len(best.Stuck) {
			best = x
		}
	}
	for _, v := range first.Stuck {
		if _, stuck := slices.BinarySearch(best.Stuck, v); !stuck && len(first.Shut(v)) > 0 {
			best.Narrowed = append(best.Narrowed, v)
		}
	}
	return best
}

// rest is Rest under one allowance.
func (q *Sequence) rest(done []bool, a Allowance, narrow bool) *Rest {
	o := q.routesUnder(a, narrow)
	x := &Rest{Done: done, Allowance: a, q: q, allow: o.allow, system: o.system, done: make([]bool, o.system.Len())}
	copy(x.done, done)
	access := q.Solution.Constraints.Access
	for i, first := range o.helpers {
		for k := range access[i].Routes {
			x.done[first+k] = done[access[i].Step] // nobody travels there any more
		}
	}
	x.left, x.loses = o.system.After(x.done), map[int][]int{}
	x.Stuck = x.steps(x.left.Stuck())
	return x
}

// routes is a system that leaves every access all its routes. It does not depend on what is
// done, so it is made once for each allowance.
type routes struct {
	system  *precedence.System
	helpers map[int]int
	allow   []Allowance // of each access
}

// routesUnder is for an allowance of all entries or, with narrow, for that of each entry in
// the sequence.
func (q *Sequence) routesUnder(a Allowance, narrow bool) routes {
	key := routesKey{a, narrow}
	if o, known := q.free[key]; known {
		return o
	}
	r := q.Solution.Constraints
	o := routes{allow: q.Solution.Allow}
	if !narrow {
		o.allow = r.all(a)
	}
	o.system, o.helpers = r.choices(o.allow)
	if q.free == nil {
		q.free = map[routesKey]routes{}
	}
	q.free[key] = o
	return o
}

type routesKey struct {
	allowance Allowance
	narrow    bool
}

// steps leaves the helpers out of a list.
func (x *Rest) steps(list []int) []int {
	return slices.DeleteFunc(list, func(v int) bool { return v >= len(x.Done) })
}

// Next lists the steps that can be done now without losing any other: all they need is
// done, and the others can still follow. They stand in the sequence of [Rest.Order].
func (x *Rest) Next() []int {
	return x.ready(func(v int) bool { return len(x.Loses(v)) == 0 })
}

// Held lists the steps that have all they need, and would shut out others if they were
// done now.
func (x *Rest) Held() []int {
	return x.ready(func(v int) bool { return len(x.Loses(v)) > 0 })
}

func (x *Rest) ready(which func(v int) bool) []int {
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
func (x *Rest) Loses(v int) []int {
	list, known := x.loses[v]
	if !known {
		list = slices.DeleteFunc(x.steps(x.left.Before(v)), func(w int) bool {
			_, stuck := slices.BinarySearch(x.Stuck, w)
			return stuck
		})
		x.loses[v] = list
	}
	return list
}

// Order is a sequence of what can still be done, as near to the whole sequence as what
// is done already allows.
func (x *Rest) Order() []int {
	var list []int
	for _, v := range x.order() {
		if v < len(x.Done) {
			list = append(list, v)
		}
	}
	return list
}

// order is Order with the helpers.
func (x *Rest) order() []int {
	rank := slices.Repeat([]int{len(x.Done) + 1}, x.system.Len()) // helpers come off at once
	copy(rank, x.q.Place)
	taken, _ := x.left.Peel(rank)
	slices.Reverse(taken)
	return slices.DeleteFunc(taken, func(v int) bool { return x.done[v] })
}

// Early is a step that is done while one that should have come before it is not.
type Early struct {
	Need
	Reason Reason
}

// Early lists what was done too early, by the needs of the kit.
func (x *Rest) Early() []Early {
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

// Chain is what can still be done as a plain net: each node with those it follows, such
// that every sequence which keeps to it is valid. It leaves to each piece the way that
// [Rest.Order] leaves it longest. Nodes stand in a valid sequence; those from the number
// of steps on are no steps.
func (x *Rest) Chain() (nodes []int, before [][]int) {
	nodes = x.order()
	before = make([][]int, x.system.Len())
	for _, p := range x.system.Pairs(nodes) {
		before[p[1]] = append(before[p[1]], p[0])
	}
	return nodes, before
}
