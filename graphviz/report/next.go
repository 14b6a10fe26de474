package report

import (
	"context"
	"fmt"
	"slices"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/next"
	"dryfit/plan/printing"
	"dryfit/plan/project"
)

// Next reports what can be done now in a kit with a proven order and known
// progress; all shows long lists in full. What to print is said by the plates of the
// printing plan if the kit names printers. The error is one of planning them.
func Next(ctx context.Context, p *plan.Project, all bool) (*Report, error) {
	t := next.New(p, p.Progress.Of(p.Kit))
	if len(p.Kit.Printers) > 0 {
		plates, err := nextPlates(ctx, p)
		if err != nil {
			return nil, err
		}
		t.ByPlates(plates)
	}
	n := &todo{p: p, t: t, cut: cut{someSteps, all}}
	ok := p.OK() && plan.CountOf(t.Findings, plan.Fault) == 0
	r := newReport(p.Kit, ok, n.blocks(), nil, nextData(p, t, ok))
	r.Beside = t.Findings
	return r, nil
}

// nextPlates are the plates with their pieces of the model, as printing numbers them.
func nextPlates(ctx context.Context, p *plan.Project) ([]next.Print, error) {
	made, _, err := project.Printing(ctx, p, func(r *printing.Request) { r.NoLayers = true }, nil)
	if err != nil {
		return nil, err
	}
	var list []next.Print
	for _, plate := range made.Plates {
		one := next.Print{Plate: plate.Number}
		for _, x := range plate.Pieces {
			one.Pieces = append(one.Pieces, p.Kit.PiecesNamed(x.Piece.ID)...)
		}
		slices.Sort(one.Pieces)
		if len(one.Pieces) > 0 {
			list = append(list, one)
		}
	}
	return list, nil
}

// someSteps is how many steps of each kind are shown without all.
const someSteps = 12

// todo is the result to be worded.
type todo struct {
	p *plan.Project
	t *next.Todo
	cut
}

func (n *todo) blocks() []document.Block {
	t := n.t
	var b blocks
	b.text("%s", n.progress())
	section := func(title string, count int, one func(i int) document.Block) {
		if count == 0 {
			return
		}
		b.heading("%s", title)
		shown := n.shown(count)
		for i := range shown {
			b.add(one(i))
		}
		if shown < count {
			b.text("%s", more(count-shown))
		}
	}
	jobs := func(list []next.Job) func(int) document.Block {
		return func(i int) document.Block { return n.job(list[i]) }
	}
	section("Now", len(t.Now), jobs(t.Now))
	section("Once cleaned and painted", len(t.Soon), jobs(t.Soon))
	section("Once printed", len(t.Then), jobs(t.Then))
	var held, over []next.Hold
	for _, h := range t.Held {
		if len(h.On) > 0 {
			over = append(over, h)
		} else {
			held = append(held, h)
		}
	}
	section("Not yet: these would shut out others", len(held), func(i int) document.Block { return n.held(held[i]) })
	section("Not yet: what they rest on must be taken apart again", len(over), func(i int) document.Block { return n.held(over[i]) })
	if len(t.Bench.Clean)+len(t.Bench.Paint) > 0 {
		b.heading("On the bench")
		b.add(document.Entry{Texts: n.named("clean", t.Bench.Clean)}, document.Entry{Texts: n.named("paint", t.Bench.Paint)})
	}
	if len(t.Prints) > 0 {
		b.heading("Print next")
		b.add(n.prints())
	}
	if t.Count.Done == t.Count.Steps {
		b.text("All steps are done.")
	}
	if hazards := todoHazards(n.p, t); len(hazards) > 0 {
		b.add(cautionBlocks(hazards, true)...)
	}
	return b
}

// todoHazards are the hazards of the listed steps, bench work and prints.
func todoHazards(p *plan.Project, t *next.Todo) []plan.Hazard {
	var ids []string
	for _, j := range slices.Concat(t.Now, t.Soon, t.Then) {
		for _, h := range p.Constraints.StepHazards(j.Step) {
			ids = append(ids, h.ID)
		}
	}
	if len(t.Bench.Clean) > 0 {
		ids = append(ids, "resin", "blades")
	}
	if len(t.Bench.Paint) > 0 {
		ids = append(ids, "solvents")
	}
	if len(t.Prints) > 0 {
		ids = append(ids, "resin", "resin-washing", "filament-fumes")
	}
	return plan.Only(p.Constraints.Hazards(), ids...)
}

// progress words how far the kit is.
func (n *todo) progress() string {
	c := n.t.Count
	text := fmt.Sprintf("%s: %d of %s done. Of %s %d printed, %d cleaned",
		n.p.Kit.Name, c.Done, english.Count(c.Steps, "step"), english.Count(c.Prints, "print"), c.Printed, c.Cleaned)
	if c.ToPaint > 0 {
		text += fmt.Sprintf(", %d of %d painted (those painted separately)", c.Painted, c.ToPaint)
	}
	return text + fmt.Sprintf("; %d of %s fitted.", c.Fitted, english.Count(c.Pieces, "piece"))
}

// work words what a piece may lack. Cleaning is implied after printing.
var work = []struct {
	states progress.States
	words  string
}{
	{progress.Printed | progress.Cleaned | progress.Painted, "print and paint"},
	{progress.Printed | progress.Cleaned, "print"},
	{progress.Cleaned | progress.Painted, "clean and paint"},
	{progress.Cleaned, "clean"},
	{progress.Painted, "paint"},
}

func (n *todo) job(j next.Job) document.Step {
	q, r := n.p.Sequence, n.p.Constraints
	step := r.Steps[j.Step]
	var notes []string
	if f := step.WithID(); f != "" {
		notes = append(notes, f)
	}
	for _, w := range j.Waits {
		notes = append(notes, wait(q, w.On, w.For))
	}
	text := bracketed(r.Does(j.Step), notes)
	if name := kits.Plain(n.t.Name(j.Step)); name != text {
		text += " (" + name + ")"
	}
	s := n.step(j.Step, text)
	s.First, s.Then = around(r, n.t.Rest.ActsFor(j.Step))
	if text := step.Note(); text != "" {
		s.Notes = append(s.Notes, text)
	}
	if len(j.Pieces) < len(step.Fits()) {
		s.Notes = append(s.Notes, n.named("still to fit", j.Pieces)...)
	}
	for _, w := range work {
		var pieces []int
		for _, m := range j.Missing {
			if m.States == w.states {
				pieces = append(pieces, m.Piece)
			}
		}
		s.Notes = append(s.Notes, n.named(w.words, pieces)...)
	}
	s.Notes = append(s.Notes, n.named("have ready", j.Have)...)
	s.Notes = append(s.Notes, n.named("last call, painted inside", j.Inside)...)
	s.Notes = append(s.Notes, n.named("painted inside by now", j.Recall)...)
	return s
}

func (n *todo) step(v int, text string) document.Step {
	number := n.p.Sequence.Place[v]
	return document.Step{ID: document.StepID(number), Number: number, Title: text}
}

func (n *todo) held(h next.Hold) document.Step {
	var names []string
	for _, v := range h.Loses {
		names = append(names, n.p.Sequence.Named(v))
	}
	lead := "shuts out "
	if h.Narrows {
		lead = "leaves only by turning, or by opening something again: "
	}
	s := n.step(h.Step, n.p.Constraints.Does(h.Step))
	if len(h.On) > 0 {
		names = nil
		for _, v := range h.On {
			names = append(names, n.p.Sequence.Named(v))
		}
		s.Notes = []string{"rests on " + n.joined(names) + ", which shuts others out"}
		return s
	}
	s.Notes = []string{lead + n.joined(names)}
	return s
}

// prints lists what is worth printing together.
func (n *todo) prints() document.Entry {
	shown := n.shown(len(n.t.Prints))
	list := document.List{Numbered: n.t.Prints[0].Plate == 0}
	for _, p := range n.t.Prints[:shown] {
		var opens []string
		for _, v := range numbers(n.p.Sequence, p.Opens) {
			opens = append(opens, fmt.Sprint(v))
		}
		verb := "opens step "
		if len(opens) > 1 {
			verb = "opens steps "
		}
		text := n.names(p.Pieces)
		if len(opens) > 0 {
			text += "; " + verb + n.joined(opens)
		}
		if p.Plate > 0 {
			text = fmt.Sprintf("Plate %d: %s", p.Plate, text)
		}
		list.Items = append(list.Items, text)
	}
	if rest := len(n.t.Prints) - shown; rest > 0 {
		return document.Entry{Lists: []document.List{list, {Title: more(rest)}}}
	}
	return document.Entry{Lists: []document.List{list}}
}

// named lists pieces after what is to be done with them; empty if there are none.
func (n *todo) named(lead string, pieces []int) []string {
	if len(pieces) == 0 {
		return nil
	}
	return []string{lead + ": " + n.names(pieces)}
}

// names lists pieces, grouping all copies of a part.
func (n *todo) names(pieces []int) string {
	k := n.p.Kit
	var names []string
	for i := 0; i < len(pieces); i++ {
		pc := k.Pieces[pieces[i]]
		end := i + pc.Part.Quantity
		if pc.Copy == 1 && end <= len(pieces) && slices.Equal(pieces[i:end], k.Copies(pc.Part)) {
			names = append(names, n.p.Constraints.Labels(pieces[i:end]))
			i = end - 1
			continue
		}
		names = append(names, k.Label(pieces[i]))
	}
	return n.joined(names)
}

// cut shortens long lists.
type cut struct {
	most int
	all  bool // show long lists in full
}

// shown is how many entries of a list are shown.
func (c cut) shown(n int) int {
	if c.all || n <= c.most+1 {
		return n
	}
	return c.most
}

// joined lists names.
func (c cut) joined(names []string) string { return english.Few(names, c.shown(len(names))) }

// more says how many entries are left out.
func more(n int) string { return fmt.Sprintf("and %d more; --all shows them", n) }
