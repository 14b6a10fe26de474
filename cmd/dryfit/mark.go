package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	record "dryfit/kits/progress" // progress is the bar on the terminal
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/next"
	"dryfit/plan/printing"
	"dryfit/plan/project"
)

type markOptions struct {
	undo  bool
	force bool
	test  testOptions
	aim   string
}

func newMark() *cobra.Command {
	var o markOptions
	cmd := &cobra.Command{
		Use:   "mark KIT STATE NAME ...",
		Short: "Record what is printed, cleaned, painted, fitted or done",
		Long: `mark records how far pieces are: printed, cleaned, painted or fitted. It keeps them in
the progress file beside the kit, kit.progress.yaml for kit.yaml. A piece goes by its id,
all copies of a part by the id of the part, or by your number. With the state done, NAME
is a closing, a wire or a task: the name of its step or, for a task without one, its
text. The name of a step that fits pieces marks them as fitted. With the state printed,
plate-3 is all that is on plate 3 of the printing plan; from then on the plates keep their
numbers.

A state implies those before it: what is fitted was printed and cleaned, and painted if
it is painted by itself. --undo takes back a state and those that imply it. What cannot
be fitted or done yet, and what would shut out other pieces, is refused with the reason;
--force records it anyway.

The state tested logs a test print of a part: its result, the printer, the material, how
it lay, and a note that comes out with the part in lists, on printing sheets and in the
booklet. failed logs a print that came to nothing, and takes printed back.
dryfit help release says when a part counts as tested.

Exit status: 0 recorded, or up to date already; 2 refused, or the command could not do its
work.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 3 {
				return fmt.Errorf("%s takes KIT STATE NAME ..., not %s", cmd.CommandPath(), english.Count(len(args), "argument"))
			}
			return nil
		},
		ValidArgsFunction: completeMark,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runMark(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], args[1], args[2:], o)
		},
	}
	cmd.Flags().BoolVar(&o.undo, "undo", false, "take the state back")
	cmd.Flags().BoolVar(&o.force, "force", false, "record what is refused")
	o.test.addTo(cmd)
	cmd.Flags().StringVar(&o.aim, "aim", printing.Aims[0], "what the plates are filled for, as of printing")
	completeFlag(cmd, "aim", printing.Aims)
	return cmd
}

func completeMark(cmd *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
	switch len(args) {
	case 0:
		return completeKit(nil)(cmd, args, word)
	case 1:
		return append(record.StateNames(), record.Done, record.Tested, record.Failed), cobra.ShellCompDirectiveNoFileComp
	}
	kit, err := kits.ReadFile(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if args[1] == record.Done {
		var list []cobra.Completion
		for _, s := range record.Steps(kit) {
			list = append(list, kits.Plain(s.Name))
		}
		return list, cobra.ShellCompDirectiveNoFileComp
	}
	return pieceNames(kit), cobra.ShellCompDirectiveNoFileComp
}

func runMark(ctx context.Context, w, messages io.Writer, path, state string, names []string, o markOptions) error {
	kit, err := stopping.Soon(ctx, func() (*kits.Kit, error) { return kits.ReadFile(path) })
	if err != nil {
		return err
	}
	if !slices.Contains(printing.Aims, o.aim) {
		return fmt.Errorf("unknown aim %q: use one of %s", kits.Plain(o.aim), strings.Join(printing.Aims, ", "))
	}
	loaded := func() (*plan.Project, error) { return load(ctx, path, project.Options{Progress: true}) }
	m := marking{kit: kit, plates: &markedPlates{aim: o.aim}, force: o.force, messages: messages, project: sync.OnceValues(loaded)}
	var wrong []error
	if state == record.Tested || state == record.Failed {
		m.change, wrong, err = o.test.change(ctx, &m, state == record.Failed, o.undo, names)
	} else if err = o.test.refuse(); err == nil {
		wrong, err = m.states(state, names, o.undo)
	}
	if err != nil {
		return err
	}
	if len(wrong) > 0 {
		for _, err := range wrong {
			fmt.Fprintln(messages, "dryfit: "+err.Error())
		}
		return errShown
	}
	name := record.Path(kit.File)
	file, err := record.ReadFile(name)
	if err != nil {
		return err
	}
	on, err := m.plates.pieces(ctx, kit, file, o.undo, m.project)
	m.marks.Add(on...)
	if err == nil {
		// What takes long is done here, not while others wait for the file.
		_, err = m.mark(file)
	}
	if err == nil && !m.same {
		err = record.Update(name, m.mark)
	}
	if err != nil {
		return err
	}
	for _, f := range m.after.Unknown {
		fmt.Fprintf(messages, "dryfit: %s; it is ignored\n", f.Error())
	}
	if m.same {
		_, err = fmt.Fprintf(w, "%s is already up to date\n", kits.Plain(name))
		return err
	}
	if m.byHand {
		fmt.Fprintf(messages, "dryfit: %s\n", project.EditedByHand(name))
	}
	m.plates.say(w, o.undo)
	return markText(w, kit, m.before, m.after, m.told, name)
}

// states has a state of pieces recorded, or steps that are done.
func (m *marking) states(state string, names []string, undo bool) (wrong []error, err error) {
	if one, _ := record.StateOf(state); one == record.Printed {
		names = m.plates.split(m.kit, names)
	}
	if m.marks, wrong = record.Find(m.kit, state, names); len(wrong) > 0 {
		return wrong, nil
	}
	m.marks.Undo = undo
	m.change = func(f *record.File) (*record.File, error) {
		after, err := f.Mark(m.kit, m.marks)
		if err == nil && len(m.plates.numbers) > 0 {
			after, err = after.Keep(m.kit, m.plates.planned, m.plates.numbers, !undo)
		}
		return after, err
	}
	return nil, unfitted(m.kit, m.marks)
}

// change makes the progress file that is to be from the one that is.
type change func(*record.File) (*record.File, error)

// marking is a change that is to be recorded, and the progress without and with it.
type marking struct {
	kit           *kits.Kit
	change        change
	marks         record.Marks // that the change makes, if it is of states
	plates        *markedPlates
	force         bool
	messages      io.Writer
	project       func() (*plan.Project, error) // the kit with its meshes
	before, after *record.Progress
	told          []string // what is recorded besides
	same          bool     // nothing changes
	byHand        bool     // the file was edited by hand
}

// mark records the marks in a file. It is an error when they cannot be right.
func (m *marking) mark(file *record.File) (*record.File, error) {
	after, err := m.change(file)
	if err != nil {
		return nil, err
	}
	m.before, m.after, m.same, m.byHand = file.Of(m.kit), after.Of(m.kit), after.Same(file), file.EditedByHand()
	if m.force || !touchesSteps(m.kit, m.before, m.after) {
		return after, nil
	}
	p, err := m.project()
	if err != nil {
		return nil, err
	}
	return after, refuse(m.messages, next.Objections(p, file.Of(p.Kit), after.Of(p.Kit)))
}

// unfitted says that a base cannot be fitted.
func unfitted(kit *kits.Kit, m record.Marks) error {
	for _, p := range m.Pieces {
		if m.State == record.Fitted && kit.Fitted(p) == nil {
			return fmt.Errorf("no step fits %s: it is what others are fitted to; mark those, and the closings that name it", kit.Pieces[p].ID)
		}
	}
	return nil
}

// touchesSteps reports whether another step, or copy, is done after a mark than before.
func touchesSteps(kit *kits.Kit, before, after *record.Progress) bool {
	for i := range kit.Pieces {
		if before.Pieces[i]&record.Fitted != after.Pieces[i]&record.Fitted {
			return true
		}
	}
	for _, s := range record.Steps(kit) {
		if before.Step(s.Join, s.Wire, s.Task) != after.Step(s.Join, s.Wire, s.Task) {
			return true
		}
	}
	return false
}

func refuse(messages io.Writer, objections []string) error {
	if len(objections) == 0 {
		return nil
	}
	shown := min(len(objections), shownFaults)
	list := []document.Block{document.Text("dryfit: nothing is marked:"), document.Bullets(objections[:shown])}
	if n := len(objections) - shown; n > 0 {
		list = append(list, document.Text(fmt.Sprintf("and %d more", n)))
	}
	list = append(list, document.Text("If it is true anyway, --force records it."))
	if err := document.WriteText(messages, &document.Document{Chapters: []document.Chapter{{Blocks: list}}}); err != nil {
		return err
	}
	return errShown
}

// markText says what has changed, with what was implied.
func markText(w io.Writer, kit *kits.Kit, before, after *record.Progress, told []string, file string) error {
	var list []document.Block
	say := func(text string) { list = append(list, document.Text(text)) }
	for _, text := range told {
		say(text)
	}
	for i, pc := range kit.Pieces {
		if before.Pieces[i] == after.Pieces[i] {
			continue
		}
		text := after.Pieces[i].String()
		if text == "" {
			text = "not begun"
		}
		say(kit.Label(i) + " (" + pc.ID + "): " + text)
	}
	for _, s := range record.Steps(kit) {
		was, is := before.Step(s.Join, s.Wire, s.Task), after.Step(s.Join, s.Wire, s.Task)
		switch {
		case s.IsFit() || was == is:
		case is:
			say(kits.Plain(s.Name) + ": done")
		default:
			say(kits.Plain(s.Name) + ": not done")
		}
	}
	say("written to " + kits.Plain(strings.TrimSpace(file)))
	return document.WriteText(w, &document.Document{Chapters: []document.Chapter{{Blocks: list}}})
}
