package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	record "dryfit/kits/progress" // progress is the bar on the terminal
	"dryfit/plan"
	"dryfit/plan/next"
	"dryfit/plan/project"
)

type nextOptions struct {
	json bool
	all  bool
}

func newNext() *cobra.Command {
	var o nextOptions
	cmd := &cobra.Command{
		Use:   "next KIT",
		Short: "Say what can be done now, given what is printed and built",
		Long: `next reads the progress file beside the kit, kit.progress.yaml for kit.yaml, which
mark keeps, and says which steps can be done now so that all others can still follow;
what each of them still waits for; which steps must be held back, and what they would
shut out; which prints would open most steps; and what can no longer get to its place
after what has been done. Steps have the numbers of order, and in brackets the name
that mark takes.

JSON: {"kit", "ok", "file", "count": {"steps", "done", "pieces", "fitted", "prints",
"printed", "cleaned", "to_paint", "painted"}, "next": [{"number", "kind", "text",
"name", "pieces", "ready", "missing": [{"piece", "states"}], "have", "paint_inside",
"waits": [{"after", "seconds"}]}], "held": [{"number", "text", "name", "shuts_out", "narrows"}],
"clean", "paint", "prints": [{"pieces", "opens"}], "not_printed": [{"piece", "opens",
"waits"}], "findings"}. Steps are referred to by number; name is what mark takes.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runNext(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	cmd.Flags().BoolVar(&o.json, "json", false, "print JSON")
	cmd.Flags().BoolVar(&o.all, "all", false, "leave nothing out of long lists")
	return cmd
}

func runNext(ctx context.Context, w, messages io.Writer, path string, o nextOptions) error {
	rep, err := load(ctx, path, project.Options{Progress: true})
	if err != nil {
		return fail(w, path, o.json, err)
	}
	file := rep.Progress
	switch {
	case rep.Sequence == nil && o.json:
		err = writeJSON(w, findingsJSON{rep.Kit.Name, false, complete(rep.Findings)})
	case rep.Sequence == nil:
		err = checkText(messages, rep)
	}
	if err == nil && rep.Sequence == nil {
		err = errFindings
	}
	if err != nil {
		return err
	}
	t := next.New(rep, file.Of(rep.Kit))
	if o.json {
		err = nextJSON(w, rep, file, t)
	} else {
		err = nextText(w, messages, rep, t, o.all)
	}
	if err == nil && slices.ContainsFunc(t.Findings, func(f plan.Finding) bool { return f.Grade == plan.Fault }) {
		err = errFindings
	}
	return err
}

// someSteps is how many steps of each kind are shown without --all.
const someSteps = 12

func nextText(w, messages io.Writer, rep *plan.Project, t *next.Todo, all bool) error {
	if err := findingsText(messages, t.Findings, false); err != nil {
		return err
	}
	s := styleFor(w)
	n := &nextPrinter{printer{w: w}, rep, all}
	n.wrap("", "", progressLine(rep, t.Count))
	section := func(title string, many int, one func(i int)) {
		if many == 0 {
			return
		}
		n.line("")
		n.line("%s", s.bold(title))
		n.some(many, one)
	}
	section("Now", len(t.Now), func(i int) { n.job(t, t.Now[i]) })
	section("Once cleaned and painted", len(t.Soon), func(i int) { n.job(t, t.Soon[i]) })
	section("Once printed", len(t.Then), func(i int) { n.job(t, t.Then[i]) })
	section("Not yet, for the sake of others", len(t.Held), func(i int) { n.hold(t, t.Held[i]) })
	if len(t.Bench.Clean)+len(t.Bench.Paint) > 0 {
		n.line("")
		n.line("%s", s.bold("On the bench"))
		n.pieces("  clean: ", t.Bench.Clean)
		n.pieces("  paint: ", t.Bench.Paint)
	}
	section("Print next", len(t.Prints), func(i int) { n.print(i, t.Prints[i]) })
	if t.Count.Done == t.Count.Steps {
		n.line("")
		n.line("All steps are done.")
	}
	return n.err
}

// progressLine is how far the kit is.
func progressLine(rep *plan.Project, c next.Count) string {
	text := fmt.Sprintf("%s: %d of %s done. Of %s %d printed, %d cleaned",
		rep.Kit.Name, c.Done, many(c.Steps, "step"), many(c.Prints, "print"), c.Printed, c.Cleaned)
	if c.ToPaint > 0 {
		text += fmt.Sprintf(", %d of %d painted that are painted by themselves", c.Painted, c.ToPaint)
	}
	return text + fmt.Sprintf("; %d of %s fitted.", c.Fitted, many(c.Pieces, "piece"))
}

// nextPrinter prints what can be done.
type nextPrinter struct {
	printer
	rep *plan.Project
	all bool
}

// some prints the first of a list, and how many there are beyond.
func (n *nextPrinter) some(many int, one func(i int)) {
	shown := many
	if !n.all && many > someSteps+1 {
		shown = someSteps
	}
	for i := range shown {
		one(i)
	}
	if shown < many {
		n.line("      and %d more; --all shows them", many-shown)
	}
}

// work is what a piece may lack, in words. That a print is cleaned goes without saying.
var work = []struct {
	states record.States
	words  string
}{
	{record.Printed | record.Cleaned | record.Painted, "print and paint"},
	{record.Printed | record.Cleaned, "print"},
	{record.Cleaned | record.Painted, "clean and paint"},
	{record.Cleaned, "clean"},
	{record.Painted, "paint"},
}

func (n *nextPrinter) job(t *next.Todo, j next.Job) {
	q, r := n.rep.Sequence, n.rep.Constraints
	step := r.Steps[j.Step]
	var notes []string
	if step.Join != nil && step.Join.Fixing != nil {
		notes = append(notes, step.Join.Fixing.ID)
	}
	for _, wait := range j.Waits {
		notes = append(notes, fmt.Sprintf("%s after step %d", span(wait.For), q.Place[wait.On]))
	}
	text := r.Does(j.Step)
	if len(notes) > 0 {
		text += " [" + strings.Join(notes, "; ") + "]"
	}
	if name := kits.Plain(t.Name(j.Step)); name != text {
		text += " (" + name + ")"
	}
	n.wrap(fmt.Sprintf("%4d. ", q.Place[j.Step]), "      ", text)
	if note := noteOf(step); note != "" {
		n.wrap("      ", "      ", note)
	}
	if step.Kind == plan.Fit && len(j.Pieces) < len(step.Join.Pieces) {
		n.pieces("      still to fit: ", j.Pieces)
	}
	for _, w := range work {
		var pieces []int
		for _, m := range j.Missing {
			if m.States == w.states {
				pieces = append(pieces, m.Piece)
			}
		}
		n.pieces("      "+w.words+": ", pieces)
	}
	n.pieces("      have ready: ", j.Have)
	n.pieces("      last call: is it painted inside? ", j.Inside)
}

func (n *nextPrinter) hold(t *next.Todo, h next.Hold) {
	q, r := n.rep.Sequence, n.rep.Constraints
	n.wrap(fmt.Sprintf("%4d. ", q.Place[h.Step]), "      ", r.Does(h.Step))
	var names []string
	for _, v := range h.Loses {
		names = append(names, q.Named(v))
	}
	head := "      shuts out "
	if h.Narrows {
		head = "      leaves only by turning, or by opening something again: "
	}
	n.wrap(head, "        ", n.joined(names))
}

func (n *nextPrinter) print(i int, p next.Print) {
	q := n.rep.Sequence
	var numbers []string
	for _, v := range p.Opens {
		numbers = append(numbers, fmt.Sprint(q.Place[v]))
	}
	step := "opens step "
	if len(numbers) > 1 {
		step = "opens steps "
	}
	n.pieces(fmt.Sprintf("%4d. ", i+1), p.Pieces)
	n.wrap("      ", "      ", step+n.joined(numbers))
}

// pieces lists pieces after a heading, if there are any; all copies of a part together.
func (n *nextPrinter) pieces(head string, pieces []int) {
	if len(pieces) == 0 {
		return
	}
	k := n.rep.Kit
	var names []string
	for i := 0; i < len(pieces); i++ {
		pc := k.Pieces[pieces[i]]
		end := i + pc.Part.Quantity
		if pc.Copy == 1 && end <= len(pieces) && slices.Equal(pieces[i:end], k.Copies(pc.Part)) {
			names = append(names, n.rep.Constraints.Labels(pieces[i:end]))
			i = end - 1
			continue
		}
		names = append(names, k.Label(pieces[i]))
	}
	rest := strings.Repeat(" ", len(head)-len(strings.TrimLeft(head, " ")))
	if strings.HasSuffix(head, ". ") {
		rest = strings.Repeat(" ", len(head))
	}
	n.wrap(head, rest+"  ", n.joined(names))
}

// joined lists names, not too many without --all.
func (n *nextPrinter) joined(names []string) string {
	if !n.all && len(names) > someSteps+1 {
		return strings.Join(names[:someSteps], ", ") + fmt.Sprintf(" and %d more", len(names)-someSteps)
	}
	return strings.Join(names, ", ")
}
