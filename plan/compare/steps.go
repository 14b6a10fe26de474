package compare

import (
	"slices"

	"dryfit/plan"
)

// Steps are the steps that are new, gone, or have moved. It is empty, and not Known, when
// one of the revisions has no proven order.
type Steps struct {
	Known              bool
	Added, Gone, Moved []Step
}

// Step is a step and its numbers, 0 where it is missing.
type Step struct {
	Text     string
	Old, New int
}

// steps compares the sequences. As many of the common steps as possible count as
// unmoved, by their order and not by their numbers; the others have moved. So a
// new or moved step moves no other.
func steps(p *pairs) Steps {
	was, is := p.before.Sequence, p.after.Sequence
	if was == nil || is == nil {
		return Steps{}
	}
	s := Steps{Known: true}
	var common, places []int // common steps in the new order, and their old places
	for _, v := range is.Order {
		if w, known := p.oldStep[v]; known {
			common, places = append(common, v), append(places, was.Place[w])
		} else {
			s.Added = append(s.Added, Step{p.after.Constraints.Does(v), 0, is.Place[v]})
		}
	}
	for _, w := range was.Order {
		if p.newStep[w] < 0 {
			s.Gone = append(s.Gone, Step{p.before.Constraints.Does(w), was.Place[w], 0})
		}
	}
	stays := longestRising(places)
	for i, v := range common {
		if !stays[i] {
			s.Moved = append(s.Moved, Step{p.after.Constraints.Does(v), places[i], is.Place[v]})
		}
	}
	return s
}

// pairSteps finds which steps are the same.
func (p *pairs) pairSteps() {
	p.oldStep = match(stepItems(p.before, p.newID), stepItems(p.after, nil))
	p.newStep = slices.Repeat([]int{-2}, len(p.before.Constraints.Steps))
	for v, w := range p.oldStep {
		p.newStep[w] = v
	}
}

// stepItems describes the steps of a project, by their numbers in its constraints.
func stepItems(rep *plan.Project, newID newIDs) []item {
	d := &describer{kit: rep.Kit, newID: newID}
	for _, s := range rep.Constraints.Steps {
		switch {
		case s.Join != nil:
			d.join(s.Join)
		case s.Wire != nil:
			d.wire(s.Wire)
		default:
			d.task(s.Task)
		}
	}
	return d.items
}

// longestRising marks a longest rising subsequence of different numbers (M. L. Fredman,
// "On computing the length of longest increasing subsequences", Discrete Mathematics 11, 1975):
// tails[k] is the index of the smallest number that ends one of length k+1.
func longestRising(list []int) []bool {
	var tails []int
	before := make([]int, len(list))
	for i, x := range list {
		k, _ := slices.BinarySearchFunc(tails, x, func(t, x int) int { return list[t] - x })
		before[i] = -1
		if k > 0 {
			before[i] = tails[k-1]
		}
		if k == len(tails) {
			tails = append(tails, i)
		} else {
			tails[k] = i
		}
	}
	in := make([]bool, len(list))
	if len(tails) > 0 {
		for i := tails[len(tails)-1]; i >= 0; i = before[i] {
			in[i] = true
		}
	}
	return in
}
