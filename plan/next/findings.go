package next

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits/progress"
	"dryfit/plan"
)

// Kinds of findings of this package.
const (
	Unknown    = "unknown"      // the progress file names what the kit does not have
	OutOfOrder = "out-of-order" // done before something that should have come first
	OutOfReach = "out-of-reach" // what is done shuts it out for good
	Narrowed   = "narrowed"     // what is done leaves only a way that the sequence does not ask for
)

func (t *Todo) findings() {
	t.outOfReach()
	t.narrowed()
	t.outOfOrder()
	for _, f := range t.p.Unknown {
		t.add(plan.Finding{Kind: Unknown, Grade: plan.Caution, Text: f.Text + "; it is left aside", Because: []plan.Reason{{Text: "the progress file names it", At: f.Pos.String()}}})
	}
}

func (t *Todo) add(f plan.Finding) { t.Findings = append(t.Findings, f) }

// shutOut are pieces and wires that the same steps keep out.
type shutOut struct {
	shut  []plan.Shut
	steps []int // that would bring them in
}

// shutOuts groups what is kept out of the given steps, and counts the steps that only
// wait behind that. Copies that are in are left out.
func shutOuts(x *plan.Rest, p *progress.Progress, steps []int) (list []shutOut, behind int) {
	for _, v := range steps {
		found := false
		for _, s := range x.Shut(v) {
			if s.Piece >= 0 && p.Pieces[s.Piece]&progress.Fitted != 0 {
				continue
			}
			found = true
			i := slices.IndexFunc(list, func(o shutOut) bool { return slices.Equal(o.shut[0].By, s.By) })
			if i < 0 {
				i = len(list)
				list = append(list, shutOut{})
			}
			list[i].shut = append(list[i].shut, s)
			list[i].steps = append(list[i].steps, v)
		}
		behind += number(!found)
	}
	return list, behind
}

// ids are the ids of what is kept out, each once.
func (o shutOut) ids() []string {
	var ids []string
	for _, s := range o.shut {
		if !slices.Contains(ids, s.Who) {
			ids = append(ids, s.Who)
		}
	}
	return ids
}

// text words the first that is kept out and names the others.
func (o shutOut) text(rep *plan.Project) string {
	var names []string
	for _, s := range o.shut[1:] {
		name := s.Who
		if s.Piece >= 0 {
			name = rep.Kit.Label(s.Piece)
		}
		if s.Who != o.shut[0].Who && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return o.shut[0].Text
	}
	return o.shut[0].Text + "; the same goes for " + listed(names)
}

// outOfReach reports what can no longer get to its place, and counts what waits behind
// that.
func (t *Todo) outOfReach() {
	groups, behind := shutOuts(t.Rest, t.p, t.Rest.Stuck)
	for _, o := range groups {
		f := plan.Finding{Kind: OutOfReach, Grade: plan.Fault, Piece: o.shut[0].Who, Step: t.Name(o.steps[0]),
			Text: o.text(t.rep), Repairs: t.repairs(o.shut[0].By, o.steps)}
		if ids := o.ids(); len(ids) > 1 {
			f.Pieces = ids
		}
		t.add(f)
	}
	switch {
	case behind > 0 && len(groups) > 0:
		t.add(plan.Finding{Kind: plan.Behind, Grade: plan.Note, Text: fmt.Sprintf("%s behind what is out of reach", waits(behind))})
	case behind > 0:
		stuck := t.Rest.Stuck
		t.add(plan.Finding{Kind: OutOfReach, Grade: plan.Fault, Step: t.Name(stuck[0]), Repairs: t.repairs(t.lateSteps(), stuck), Text: noOrder(t.rep, stuck)})
	}
}

func noOrder(rep *plan.Project, stuck []int) string {
	return "what is done leaves no order for these: each would shut out another or waits for one: " + several(rep, stuck)
}

func waits(n int) string {
	if n == 1 {
		return "1 more step waits"
	}
	return fmt.Sprintf("%d more steps wait", n)
}

// repairs lists what to take back so that the steps can be done again, each tried.
func (t *Todo) repairs(candidates, steps []int) []plan.Repair {
	q, r := t.rep.Sequence, t.rep.Constraints
	var out []plan.Repair
	for _, v := range candidates {
		undone := t.before(v)
		done := slices.Clone(t.Rest.Done)
		for _, w := range undone {
			done[w] = false
		}
		stuck := q.Rest(done).Stuck
		if slices.ContainsFunc(steps, func(s int) bool { return slices.Contains(stuck, s) }) {
			continue
		}
		text := fmt.Sprintf("if %s is done, take it apart again%s", q.Named(v), holds(r.Steps[v]))
		if n := len(undone) - 1; n > 0 {
			text += fmt.Sprintf("; %d done %s after it and would come off first", n, plural(n, "step comes", "steps come"))
		}
		out = append(out, plan.Repair{Text: text + "; if it is not, take the mark back with dryfit mark --undo"})
	}
	return out
}

// lateSteps are the done steps from the last, at most so many as are worth trying.
func (t *Todo) lateSteps() []int {
	q := t.rep.Sequence
	var list []int
	for _, v := range slices.Backward(q.Order) {
		if t.Rest.Done[v] && len(list) < 12 {
			list = append(list, v)
		}
	}
	return list
}

// before lists a step and the done steps that need it, in turn.
func (t *Todo) before(v int) []int {
	in := map[int]bool{v: true}
	list := []int{v}
	for i := 0; i < len(list); i++ {
		for _, n := range t.rep.Constraints.Needs {
			if n.Before == list[i] && t.Rest.Done[n.After] && !in[n.After] {
				in[n.After] = true
				list = append(list, n.After)
			}
		}
	}
	return list
}

// holds says whether what a step joined opens.
func holds(s plan.Step) string {
	switch {
	case s.Join == nil:
		return ""
	case s.Join.Opens:
		return " (it opens)"
	case s.Join.Fixing != nil:
		return " (" + s.Join.Fixing.ID + " holds for good)"
	}
	return " (the kit says of no fixing that opens)"
}

// narrowed reports what can get in only by more than the sequence asks for.
func (t *Todo) narrowed() {
	how := "by turning it, or after opening something again"
	switch a := t.Rest.Allowance; {
	case !a.Reopen:
		how = "by turning it"
	case !a.Turning:
		how = "after opening something again"
	}
	for _, v := range t.Rest.Narrowed {
		t.add(plan.Finding{Kind: Narrowed, Grade: plan.Caution, Step: t.Name(v),
			Text: fmt.Sprintf("what is done leaves %s (%s) only a way %s", t.rep.Sequence.Named(v), t.rep.Constraints.Does(v), how)})
	}
}

// outOfOrder reports steps that are not done while later ones are.
func (t *Todo) outOfOrder() {
	q := t.rep.Sequence
	var order []int
	early := map[int][]plan.Early{}
	for _, e := range t.Rest.Early() {
		if early[e.Before] == nil {
			order = append(order, e.Before)
		}
		early[e.Before] = append(early[e.Before], e)
	}
	slices.SortFunc(order, func(a, b int) int { return q.Place[a] - q.Place[b] })
	for _, v := range order {
		f := plan.Finding{Kind: OutOfOrder, Grade: plan.Caution, Step: t.Name(v)}
		var after []string
		for _, e := range early[v] {
			if name := q.Named(e.After); !slices.Contains(after, name) {
				after = append(after, name)
			}
			if !slices.ContainsFunc(f.Because, e.Reason.Same) {
				f.Because = append(f.Because, e.Reason)
			}
		}
		verb := "comes"
		if len(after) > 1 {
			verb = "come"
		}
		f.Text = fmt.Sprintf("%s, %s, is not marked as done, but %s, which %s after it, %s; if it was done, mark it", q.Named(v), t.rep.Constraints.Does(v), listed(after), verb, plural(len(after), "is", "are"))
		t.add(f)
	}
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// several names steps by their numbers.
func several(rep *plan.Project, steps []int) string {
	var names []string
	for _, v := range steps {
		names = append(names, rep.Sequence.Named(v))
	}
	return listed(names)
}

// listed joins names for a sentence, not too many.
func listed(names []string) string {
	const most = 12
	if n := len(names); n > most {
		names = append(slices.Clone(names[:most-1]), fmt.Sprintf("%d others", n-most+1))
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
