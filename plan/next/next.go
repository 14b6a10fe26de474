// Package next says what can be done next with a kit that is partly printed and
// built: which steps can be done now without shutting out others, what each of
// them still waits for, which prints would make most steps possible, and what can
// no longer be done at all.
//
// All of it rests on [plan.Rest]: a step can be done now if the others can still follow.
package next

import (
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// Todo is what can be done. Steps are in build order.
type Todo struct {
	Rest *plan.Remaining
	Now  []Job // with everything at hand
	Soon []Job // as soon as pieces that are printed are clean and painted
	Then []Job // as soon as more is printed
	Held []Hold
	// Bench lists the pieces that can be cleaned, or painted separately, now.
	Bench    struct{ Clean, Paint []int }
	Prints   []Print
	Pieces   []PieceNeed // those that are not printed
	Findings []plan.Finding
	Count    Count

	rep   *plan.Project
	p     *progress.Progress
	held  []bool   // pieces that are in the model
	names []string // of the steps
}

// Job is a step, and what it waits for.
type Job struct {
	Step    int
	Pieces  []int // that it still has to fit
	Missing []Missing
	Have    []int // bought or made pieces to have at hand
	Inside  []int // pieces whose inside cannot be painted later, and is not marked as painted
	Recall  []int // the same of pieces whose inside can, once the step is undone
	Waits   []plan.WaitFor
}

// Missing is a piece that is not ready for a step.
type Missing struct {
	Piece  int
	States progress.States // that it lacks
}

// Hold is a step that has all it needs but must wait.
type Hold struct {
	Step  int
	Loses []int // steps that it would shut out
	// Narrows says that those steps could still be done, but only by turning or
	// by opening something again where the sequence does not.
	Narrows bool
	// On are done steps that it rests on, and that have to be taken apart again because
	// they keep others out.
	On []int
}

// Count is the progress of the kit. Printed, Cleaned and Painted count printed
// pieces.
type Count struct {
	Steps, Done                                int
	Pieces, Fitted                             int
	Prints, Printed, Cleaned, ToPaint, Painted int
}

// New computes what can be done with a kit that has an order.
func New(rep *plan.Project, p *progress.Progress) *Todo {
	t := &Todo{rep: rep, p: p, held: make([]bool, len(rep.Kit.Pieces))}
	t.Rest = rep.Sequence.Remaining(Done(rep, p))
	t.inHand()
	t.name()
	blamed := t.blamed()
	for _, v := range t.Rest.Next() {
		if on := t.restsOn(v, blamed); len(on) > 0 {
			t.Held = append(t.Held, Hold{Step: v, On: on})
			continue
		}
		switch job := t.job(v); {
		case len(job.Missing) == 0:
			t.Now = append(t.Now, job)
		case job.unprinted():
			t.Then = append(t.Then, job)
		default:
			t.Soon = append(t.Soon, job)
		}
	}
	for _, v := range t.Rest.Held() {
		t.Held = append(t.Held, t.hold(v))
	}
	t.bench()
	t.prints()
	t.findings()
	t.count()
	return t
}

// Done reports for each step of a project whether it is done.
func Done(rep *plan.Project, p *progress.Progress) []bool {
	list := make([]bool, len(rep.Constraints.Steps))
	for v, s := range rep.Constraints.Steps {
		list[v] = done(s, p)
	}
	return list
}

func done(s plan.Step, p *progress.Progress) bool { return p.Step(s.Join, s.Wire, s.Task) }

// inHand marks the pieces used by done steps, and copies already in.
func (t *Todo) inHand() {
	for v, s := range t.rep.Constraints.Steps {
		var pieces []int
		switch {
		case t.Rest.Done[v]:
			pieces = s.InHand()
		case s.Kind == plan.Fit && begun(s, t.p):
			pieces = append(t.fitted(s.Join.Pieces, true), s.Join.Onto...)
		}
		for _, piece := range pieces {
			t.held[piece] = true
		}
	}
}

// name finds what each step is called in a progress file.
func (t *Todo) name() {
	named := map[progress.Step]string{}
	for _, s := range progress.Steps(t.rep.Kit) {
		named[progress.Step{Join: s.Join, Wire: s.Wire, Task: s.Task}] = s.Name
	}
	t.names = make([]string, len(t.rep.Constraints.Steps))
	for v, s := range t.rep.Constraints.Steps {
		if t.names[v] = named[progress.Step{Join: s.Join, Wire: s.Wire, Task: s.Task}]; s.Kind == plan.Fit {
			t.names[v] = strings.Join(t.rep.Kit.Names(s.Join.Pieces), " ")
		}
	}
}

// Name is what a step is called in a progress file: the pieces it fits, or its name.
func (t *Todo) Name(v int) string { return t.names[v] }

func (t *Todo) has(piece int, s progress.States) bool { return t.p.Pieces[piece]&s == s }

// fitted lists those of some pieces that are fitted, or those that are not.
func (t *Todo) fitted(pieces []int, is bool) []int {
	return slices.DeleteFunc(slices.Clone(pieces), func(piece int) bool { return t.has(piece, progress.Fitted) != is })
}

func (t *Todo) part(piece int) *kits.Part { return t.rep.Kit.Pieces[piece].Part }

// unprinted reports whether a piece comes from a printer and is not printed yet.
func (t *Todo) unprinted(piece int) bool {
	return t.part(piece).ToPrint() && !t.has(piece, progress.Printed)
}

// hold computes what a step would shut out itself, without what only waits behind
// that.
func (t *Todo) hold(v int) Hold {
	done := slices.Clone(t.Rest.Done)
	done[v] = true
	after := t.rep.Sequence.Remaining(done)
	h := Hold{Step: v, Loses: t.Rest.Loses(v)}
	direct := without(after.Stuck, t.Rest.Stuck)
	if h.Narrows = len(direct) == 0; h.Narrows {
		direct = without(after.Narrowed, t.Rest.Narrowed)
	} else {
		direct = slices.DeleteFunc(direct, func(w int) bool { return len(after.Inaccessible(w)) == 0 })
	}
	if len(direct) > 0 {
		h.Loses = direct
	}
	return h
}

func (t *Todo) count() {
	c := &t.Count
	c.Steps, c.Pieces = len(t.Rest.Done), len(t.p.Pieces)
	for _, done := range t.Rest.Done {
		c.Done += one(done)
	}
	for i := range t.p.Pieces {
		c.Fitted += one(t.has(i, progress.Fitted))
		if !t.part(i).ToPrint() {
			continue
		}
		c.Prints++
		c.Printed += one(t.has(i, progress.Printed))
		c.Cleaned += one(t.has(i, progress.Cleaned))
		if t.part(i).PaintedAlone() {
			c.ToPaint++
			c.Painted += one(t.has(i, progress.Painted))
		}
	}
}

// one is 1 for true, 0 for false.
func one(counts bool) int {
	if counts {
		return 1
	}
	return 0
}
