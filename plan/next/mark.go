package next

import (
	"fmt"
	"slices"

	"dryfit/kits/progress"
	"dryfit/plan"
)

// Objections says why a mark cannot be right: something is marked as done, or
// fitted, while what must come before it is not; it would shut out others; or a
// mark is removed on which others rest. before and after are the progress without
// and with the mark. Without an order only the first is known.
func Objections(rep *plan.Project, before, after *progress.Progress) []string {
	list := tooEarly(rep, before, after)
	if rep.Sequence == nil {
		return list
	}
	return append(list, shutsOut(rep, before, after)...)
}

// tooEarly lists what each step that is done, or begun, by the mark should come
// after, and the done steps that an unmarked step should come before.
func tooEarly(rep *plan.Project, before, after *progress.Progress) []string {
	r := rep.Constraints
	var list []string
	type objection struct{ step, statement int }
	seen := map[objection]bool{}
	for _, n := range r.Needs {
		first, second := r.Steps[n.Before], r.Steps[n.After]
		o, what := objection{n.Before, n.Statement}, "not done yet"
		switch {
		case done(first, after) || !begun(second, after):
			continue
		case more(second, before, after):
		case begun(first, before) && more(first, after, before):
			o.step, what = n.After, "done already"
		default:
			continue
		}
		if !seen[o] {
			seen[o] = true
			st := r.Statements[n.Statement]
			list = append(list, fmt.Sprintf("%s: %s; %s (%s)", what, r.Does(o.step), st.Text, st.At))
		}
	}
	return list
}

// begun reports whether a step is done, or one of several pieces that it fits is in.
func begun(s plan.Step, p *progress.Progress) bool {
	if s.Kind != plan.Fit {
		return done(s, p)
	}
	return slices.ContainsFunc(s.Join.Pieces, func(piece int) bool { return p.Pieces[piece]&progress.Fitted != 0 })
}

// more reports whether more of a step is done in the second progress than in the first.
func more(s plan.Step, one, two *progress.Progress) bool {
	if s.Kind != plan.Fit {
		return !done(s, one) && done(s, two)
	}
	return slices.ContainsFunc(s.Join.Pieces, func(piece int) bool {
		return one.Pieces[piece]&progress.Fitted == 0 && two.Pieces[piece]&progress.Fitted != 0
	})
}

// shutsOut lists what could get to its place before the mark and no longer can after it.
func shutsOut(rep *plan.Project, before, after *progress.Progress) []string {
	old, now := rep.Sequence.Remaining(Done(rep, before)), rep.Sequence.Remaining(Done(rep, after))
	lost := without(now.Stuck, old.Stuck)
	groups, behind := shutOuts(now, after, lost)
	if behind > 0 && len(groups) == 0 {
		return []string{noOrder(rep, lost)}
	}
	var list []string
	for _, o := range groups {
		list = append(list, o.text(rep))
	}
	return list
}

// without lists the steps of a list that are not in another, which is ascending.
func without(list, other []int) []int {
	return slices.DeleteFunc(slices.Clone(list), func(v int) bool {
		_, in := slices.BinarySearch(other, v)
		return in
	})
}
