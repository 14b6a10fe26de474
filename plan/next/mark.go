package next

import (
	"fmt"
	"slices"

	"dryfit/kits/progress"
	"dryfit/plan"
)

// Objections says why a mark cannot be right: what is to be marked as done, or fitted,
// while what must come before it is not; what would shut out others; and, when marks are
// taken back, what rests on them. before and after are the progress without and with the
// mark. Without an order only the first is known.
func Objections(rep *plan.Project, before, after *progress.Progress) []string {
	was, is := Done(rep, before), Done(rep, after)
	list := tooEarly(rep, before, after, is)
	if rep.Sequence == nil {
		return list
	}
	return append(list, shutsOut(rep, after, was, is)...)
}

// tooEarly lists what each step that is done, or begun, by the mark should come after,
// and the done steps that something taken back should come before.
func tooEarly(rep *plan.Project, before, after *progress.Progress, is []bool) []string {
	r := rep.Constraints
	begun := func(v int, p *progress.Progress) bool {
		s := r.Steps[v]
		if s.Kind != plan.Fit {
			return p.Step(s.Join, s.Wire, s.Task)
		}
		return slices.ContainsFunc(s.Join.Pieces, func(piece int) bool { return p.Pieces[piece]&progress.Fitted != 0 })
	}
	var list []string
	seen := map[string]bool{}
	for _, n := range r.Needs {
		st := r.Statements[n.Statement]
		said := fmt.Sprintf("%s (%s)", st.Text, st.At)
		switch {
		case is[n.Before] || !begun(n.After, after):
			continue
		case more(r.Steps[n.After], before, after):
			said = fmt.Sprintf("not done yet: %s; %s", r.Does(n.Before), said)
		case begun(n.Before, before) && more(r.Steps[n.Before], after, before):
			said = fmt.Sprintf("done already: %s; %s", r.Does(n.After), said)
		default:
			continue
		}
		if !seen[said] {
			seen[said] = true
			list = append(list, said)
		}
	}
	return list
}

// more reports whether more of a step is done in the second progress than in the first.
func more(s plan.Step, one, two *progress.Progress) bool {
	if s.Kind != plan.Fit {
		return !one.Step(s.Join, s.Wire, s.Task) && two.Step(s.Join, s.Wire, s.Task)
	}
	return slices.ContainsFunc(s.Join.Pieces, func(piece int) bool {
		return one.Pieces[piece]&progress.Fitted == 0 && two.Pieces[piece]&progress.Fitted != 0
	})
}

// shutsOut lists what can no longer get to its place after the mark and could before.
func shutsOut(rep *plan.Project, p *progress.Progress, was, is []bool) []string {
	old, now := rep.Sequence.Rest(was), rep.Sequence.Rest(is)
	lost := slices.DeleteFunc(slices.Clone(now.Stuck), func(v int) bool {
		_, stuck := slices.BinarySearch(old.Stuck, v)
		return stuck
	})
	groups, behind := shutOuts(now, p, lost)
	if behind > 0 && len(groups) == 0 {
		return []string{noOrder(rep, lost)}
	}
	var list []string
	for _, o := range groups {
		list = append(list, o.text(rep))
	}
	return list
}
