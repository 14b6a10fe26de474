package plan

import (
	"slices"
	"time"

	"dryfit/plan/schedule"
)

// activities lists the steps with what they wait for and, after them, the painting that
// the kit gives a time for. order is that of the sequence; what a build needs is painted
// one build ahead, so that it sets meanwhile.
func (q *Sequence) activities() (list []schedule.Activity, painted []Painting, order []int) {
	list = q.Solution.Constraints.Activities()
	wait := func(before, after int, lag time.Duration) {
		list[after].After = append(list[after].After, schedule.Wait{On: before, For: lag})
	}
	q.guards(func(before, after int) { wait(before, after, 0) })
	q.benched(func(step, join int) { wait(step, join, q.Solution.Constraints.Steps[step].Handle()) })
	if q.Solution.Constraints.Kit.Painting == nil {
		return list, nil, q.Order
	}
	painted = q.paintings()
	need := make([][]int, len(q.Builds)) // build -> its painting
	for i, p := range painted {
		n := len(q.Order) + i
		list = append(list, schedule.Activity{Takes: p.Takes})
		for v, s := range q.Solution.Constraints.Steps { // a schedule may begin with another than the order does
			if slices.ContainsFunc(s.InHand(), func(piece int) bool { return slices.Contains(p.Pieces, piece) }) {
				wait(n, v, p.Sets)
			}
		}
		u := q.BuildOf[p.Step]
		need[u] = append(need[u], n)
	}
	return list, painted, q.paintedAhead(need)
}

// paintedAhead is the order with the painting of each build before the first step of the
// build before.
func (q *Sequence) paintedAhead(need [][]int) []int {
	starts := q.starts()
	order := slices.Clone(need[starts[0]])
	next := 1
	for _, v := range q.Order {
		if next < len(starts) && q.BuildOf[v] == starts[next-1] {
			order = append(order, need[starts[next]]...)
			next++
		}
		order = append(order, v)
	}
	return order
}

// starts lists the builds by their first step.
func (q *Sequence) starts() []int {
	var list []int
	for _, v := range q.Order {
		if u := q.BuildOf[v]; !slices.Contains(list, u) {
			list = append(list, u)
		}
	}
	return list
}

// guards reports for each clause its step and its last join in the order, each step for
// which something is taken off with all that follows it, and each that could need it, in
// another order, with what keeps its ways in open in this one.
func (q *Sequence) guards(report func(before, after int)) {
	q.Solution.clauses(func(step int, oneOf []int) {
		last := oneOf[0]
		for _, w := range oneOf {
			if q.Place[w] > q.Place[last] {
				last = w
			}
		}
		report(step, last)
	})
	for i, v := range q.Order {
		after := q.Order[i+1:]
		if q.detours[v] == nil {
			after = q.keepsOpen(v, after)
		}
		for _, w := range after {
			report(v, w)
		}
	}
}

// keepsOpen lists joins of those that follow a step whose coming later keeps its ways in
// open without anything being taken off: all, if it is not known which.
func (q *Sequence) keepsOpen(step int, after []int) []int {
	s := q.Solution
	r, strict := s.Constraints, Relaxation{Turning: s.Relaxation.Turning}
	var list []int
	for _, i := range r.accessOf[step] {
		if !s.Relaxation.Reopen || !r.Access[i].opens() {
			continue
		}
		known := true
		r.EachClause(i, strict, func(oneOf []int, _ int) {
			if len(oneOf) == 0 {
				known = false
				return
			}
			last := slices.MaxFunc(oneOf, func(a, b int) int { return q.Place[a] - q.Place[b] })
			known = known && q.Place[last] > q.Place[step]
			list = append(list, last)
		})
		if !known {
			return after
		}
	}
	return list
}

// benched reports each step that the order puts before the join of a sub-build it
// is done on, and that join.
func (q *Sequence) benched(report func(step, join int)) {
	for v := range q.BuildOf {
		for _, u := range q.on(v) {
			if join := q.Builds[u].Join; join >= 0 && join != v && q.Place[v] < q.Place[join] {
				report(v, join)
			}
		}
	}
}
