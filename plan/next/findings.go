package next

import (
	"fmt"
	"slices"

	"dryfit/kits/english"
	"dryfit/plan"
)

// Kinds of findings of this package.
const (
	Unknown    = "unknown"      // the progress file names what the kit does not have
	OutOfOrder = "out-of-order" // done before something that should come first
	OutOfReach = "out-of-reach" // what is done shuts it out for good
	Narrowed   = "narrowed"     // what is done leaves only a way in that the sequence does not use
)

func (t *Todo) findings() {
	t.outOfReach()
	t.narrowed()
	t.outOfOrder()
	for _, f := range t.p.Unknown {
		t.add(plan.NewFinding(Unknown, plan.Caution, f.Text+"; it is ignored").Since("the progress file names it", f.Pos))
	}
}

func (t *Todo) add(f plan.Finding) { t.Findings = append(t.Findings, f) }

// narrowed reports what now needs turning or reopening where the sequence does
// not.
func (t *Todo) narrowed() {
	how := "by turning it, or after opening something again"
	switch a := t.Rest.Relaxation; {
	case !a.Reopen:
		how = "by turning it"
	case !a.Turning:
		how = "after opening something again"
	}
	for _, v := range t.Rest.Narrowed {
		t.add(plan.NewFinding(Narrowed, plan.Caution, fmt.Sprintf("what is done leaves only one way to do %s (%s): %s",
			t.rep.Sequence.Named(v), t.rep.Constraints.Does(v), how)).At(t.Name(v), v))
	}
}

// outOfOrder reports steps that are not done while later ones are.
func (t *Todo) outOfOrder() {
	q := t.rep.Sequence
	early := map[int][]plan.Early{}
	var order []int
	for _, e := range t.Rest.Early() {
		if early[e.Before] == nil {
			order = append(order, e.Before)
		}
		early[e.Before] = append(early[e.Before], e)
	}
	slices.SortFunc(order, func(a, b int) int { return q.Place[a] - q.Place[b] })
	for _, v := range order {
		t.add(t.skipped(v, early[v]))
	}
}

// skipped is the finding on a step that should have come before others that are done.
func (t *Todo) skipped(v int, early []plan.Early) plan.Finding {
	q := t.rep.Sequence
	var after, statements []int
	var because []plan.Reason
	for _, e := range early {
		if !slices.Contains(after, e.After) {
			after = append(after, e.After)
		}
		if !slices.Contains(statements, e.Statement) {
			statements = append(statements, e.Statement)
			because = append(because, e.Reason)
		}
	}
	n := len(after)
	f := plan.NewFinding(OutOfOrder, plan.Caution, fmt.Sprintf("%s, %s, is not marked as done, but %s, which %s after it, %s; if it was done, mark it",
		q.Named(v), t.rep.Constraints.Does(v), steps(t.rep, after), english.Plural(n, "comes", "come"), english.Plural(n, "is", "are"))).At(t.Name(v), v)
	f.Because = because
	return f
}

// maxNames bounds how many names one sentence lists.
const maxNames = 12

// steps names steps by their numbers.
func steps(rep *plan.Project, list []int) string {
	var names []string
	for _, v := range list {
		names = append(names, rep.Sequence.Named(v))
	}
	return english.And(names, maxNames)
}
