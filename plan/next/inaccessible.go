package next

import (
	"fmt"
	"slices"

	"dryfit/kits/english"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// shutOut is a set of pieces and wires kept out by the same steps.
type shutOut struct {
	shut  []plan.Inaccessible // the first thing of each id
	steps []int               // those that would bring them in
}

// shutOuts groups what is kept out of the given steps, and counts the steps that only
// wait behind that. Copies that are in are left out.
func shutOuts(x *plan.Remaining, p *progress.Progress, steps []int) (list []shutOut, behind int) {
	for _, v := range steps {
		found := false
		for _, s := range x.Inaccessible(v) {
			if s.Piece >= 0 && p.Pieces[s.Piece]&progress.Fitted != 0 {
				continue
			}
			found = true
			i := slices.IndexFunc(list, func(o shutOut) bool { return slices.Equal(o.shut[0].By, s.By) })
			if i < 0 {
				i = len(list)
				list = append(list, shutOut{})
			}
			o := &list[i]
			o.steps = append(o.steps, v)
			if !slices.ContainsFunc(o.shut, func(other plan.Inaccessible) bool { return other.Who == s.Who }) {
				o.shut = append(o.shut, s)
			}
		}
		behind += one(!found)
	}
	return list, behind
}

// text describes the first that is kept out and names the others.
func (o shutOut) text(rep *plan.Project) string {
	var names []string
	for _, s := range o.shut[1:] {
		if s.Piece >= 0 {
			names = append(names, rep.Kit.Label(s.Piece))
		} else {
			names = append(names, s.Who)
		}
	}
	if len(names) == 0 {
		return o.shut[0].Text
	}
	return o.shut[0].Text + "; the same goes for " + english.And(names, maxNames)
}

// outOfReach reports what can no longer get to its place, and counts what waits behind
// that.
func (t *Todo) outOfReach() {
	stuck := t.Rest.Stuck
	groups, behind := shutOuts(t.Rest, t.p, stuck)
	for _, o := range groups {
		var ids []string
		for _, s := range o.shut {
			ids = append(ids, s.Who)
		}
		t.add(plan.NewFinding(OutOfReach, plan.Fault, o.text(t.rep)).About(ids...).At(t.Name(o.steps[0]), o.steps[0]).
			Fix(t.repairs(o.shut[0].By, o.steps)...))
	}
	switch {
	case behind > 0 && len(groups) > 0:
		t.add(plan.NewFinding(plan.Behind, plan.Note, english.Count(behind, "more step waits", "more steps wait")+" behind what is out of reach"))
	case behind > 0:
		t.add(plan.NewFinding(OutOfReach, plan.Fault, noOrder(t.rep, stuck)).At(t.Name(stuck[0]), stuck[0]).
			Fix(t.repairs(t.lateSteps(), stuck)...))
	}
}

// blamed lists the done steps that keep others out.
func (t *Todo) blamed() []int {
	var list []int
	groups, _ := shutOuts(t.Rest, t.p, t.Rest.Stuck)
	for _, o := range groups {
		for _, v := range o.shut[0].By {
			if !slices.Contains(list, v) {
				list = append(list, v)
			}
		}
	}
	return list
}

// restsOn lists those of some steps that a step rests on, directly or not.
func (t *Todo) restsOn(step int, list []int) []int {
	if len(list) == 0 {
		return nil
	}
	under := []int{step}
	for i := 0; i < len(under); i++ {
		for _, n := range t.rep.Constraints.Needs {
			if n.After == under[i] && !slices.Contains(under, n.Before) {
				under = append(under, n.Before)
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(list), func(v int) bool { return !slices.Contains(under, v) })
}

func noOrder(rep *plan.Project, stuck []int) string {
	return "no order is left for these steps, as each would shut out another or waits for one that would: " + steps(rep, stuck)
}

// repairs lists what to undo so that the steps can be done again, each tried.
func (t *Todo) repairs(candidates, steps []int) []string {
	q, r := t.rep.Sequence, t.rep.Constraints
	var out []string
	for _, v := range candidates {
		undone := t.resting(v)
		done := slices.Clone(t.Rest.Done)
		for _, w := range undone {
			done[w] = false
		}
		stuck := q.Remaining(done).Stuck
		if slices.ContainsFunc(steps, func(s int) bool { return slices.Contains(stuck, s) }) {
			continue
		}
		text := fmt.Sprintf("if %s is done, take it apart again%s", q.Named(v), holds(r.Steps[v]))
		if n := len(undone) - 1; n > 0 {
			text += fmt.Sprintf("; %s after it and would come off first", english.Count(n, "done step comes", "done steps come"))
		}
		out = append(out, text+"; if it is not, take the mark back with dryfit mark --undo")
	}
	return out
}

// maxTried bounds the steps that are tried when none is known to be the cause.
const maxTried = 12

// lateSteps are the last of the done steps, the latest first.
func (t *Todo) lateSteps() []int {
	var list []int
	for _, v := range slices.Backward(t.rep.Sequence.Order) {
		if t.Rest.Done[v] && len(list) < maxTried {
			list = append(list, v)
		}
	}
	return list
}

// resting lists a step and the done steps that rest on it, directly or not.
func (t *Todo) resting(v int) []int {
	list := []int{v}
	for i := 0; i < len(list); i++ {
		for _, n := range t.rep.Constraints.Needs {
			if n.Before == list[i] && t.Rest.Done[n.After] && !slices.Contains(list, n.After) {
				list = append(list, n.After)
			}
		}
	}
	return list
}

// holds says whether the join of a step can be opened.
func holds(s plan.Step) string {
	switch {
	case s.Join == nil:
		return ""
	case s.Join.Opens:
		return " (it opens)"
	case s.Join.Fixing != nil:
		return " (" + s.Join.Fixing.ID + " holds for good)"
	}
	return " (the kit names no fixing that opens)"
}
