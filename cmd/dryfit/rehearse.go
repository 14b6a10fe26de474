package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/format"
	"dryfit/kits/regular"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/rehearse"
)

type rehearseOptions struct {
	output
	write string
	force bool
}

func newRehearse() *cobra.Command {
	var o rehearseOptions
	cmd := &cobra.Command{
		Use:   "rehearse KIT SEQUENCE",
		Short: "Walk through your own build sequence and say where it fails",
		Long: `rehearse replays your own build sequence from the first step to the last. It says which
step cannot be done and why, where it could be done instead, which steps of the kit are
missing, and what is taken off and put back on the way. It looks for the smallest change
that makes the sequence work: one step moved, or two. That search has a limit, so a change
can exist that it does not find. --write writes the changed sequence.

SEQUENCE is text with one step a line: a piece such as seat.2, a part, a wire, the name of
a step, the text of a task, or the two pieces of a closing that has no name. "off lid"
takes a lid off for a while, if its join opens, and a later "lid" puts it back; where the
sequence does not say so, that is tried by itself. What follows a # is a comment.

SEQUENCE can also be CSV, with columns by their headings between commas or semicolons:
what order --format csv writes, with its rows moved about in a spreadsheet. The rows
count, not the numbers in them; one of the kind "undo" takes something off.

Exit status: 0 the sequence builds the kit, 1 it does not or the kit has faults to fix,
2 the command could not do its work.`,
		Args:              exactly(2),
		ValidArgsFunction: completeSequence,
		RunE:              func(_ *cobra.Command, args []string) error { return o.run(args[0], args[1]) },
	}
	o.addTo(cmd, document.Formats(false)...)
	cmd.Flags().StringVar(&o.write, "write", "", "write the changed sequence here, as text")
	cmd.Flags().BoolVar(&o.force, "force", false, "replace a file that is there")
	return cmd
}

// completeSequence completes the kit, and then any file.
func completeSequence(cmd *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) == 1 {
		return nil, cobra.ShellCompDirectiveDefault
	}
	return completeKit(nil)(cmd, args, word)
}

func (o *rehearseOptions) run(kit, sequence string) error {
	return o.output.run(kit, project.Options{}, func(p *plan.Project) (*report.Report, error) {
		data, err := regular.Read(sequence, format.MaxBytes+1)
		if err != nil {
			return nil, err
		}
		steps := p.Constraints.Steps
		list, err := rehearse.Read(p.Kit, steps, sequence, data)
		if err != nil {
			return nil, err
		}
		result, err := rehearse.WalkFurther(o.cmd.Context(), p.Kit, p.Constraints.Geometry, steps, list)
		if err != nil {
			return nil, err
		}
		r := report.Rehearsal{Sequence: list, Result: result}
		if r.Failure != nil {
			r.Advice = rehearse.Advise(p.Kit, p.Constraints.Geometry, steps, list)
		}
		return report.Rehearse(p, r), o.keep(p, r.Advice.Fixed)
	})
}

// keep writes the changed sequence, if that was asked for.
func (o *rehearseOptions) keep(p *plan.Project, fixed []rehearse.Action) error {
	switch {
	case o.write == "":
		return nil
	case fixed == nil:
		_, err := fmt.Fprintf(o.cmd.ErrOrStderr(), "dryfit: there is no changed sequence, so %s was not written\n", kits.Plain(o.write))
		return err
	}
	return atomicfile.Write(o.write, rehearse.Write(p.Kit, p.Constraints.Steps, fixed), o.force, atomicfile.Never)
}
