package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/rescale"
)

type checkOptions struct{ json bool }

func newCheck() *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check KIT",
		Short: "Find out whether every piece can reach its seat",
		Long: `check proves that the kit has a build order, or lists what is wrong: the pieces
that are trapped or unreachable, the statements of the kit file that cannot hold
together, and single changes that were tried and mend it. Ballast, lights and magnets
are checked as far as the kit tells of them.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCheck(cmd.Context(), cmd.OutOrStdout(), args[0], o)
		},
	}
	cmd.Flags().BoolVar(&o.json, "json", false, "print JSON")
	return cmd
}

func runCheck(ctx context.Context, w io.Writer, path string, o checkOptions) error {
	rep, err := load(ctx, path, project.Options{})
	if err != nil {
		if o.json {
			return failJSON(w, path, err)
		}
		return err
	}
	if o.json {
		err = writeJSON(w, findingsJSON{rep.Kit.Name, rep.OK(), complete(rep.Findings)})
	} else {
		err = checkText(w, rep)
	}
	if err == nil && !rep.OK() {
		err = errFindings
	}
	return err
}

func checkText(w io.Writer, rep *plan.Project) error {
	if err := findingsText(w, rep.Findings, true); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, verdict(rep))
	return err
}

// verdict is the last line: what has been proven.
func verdict(rep *plan.Project) string {
	count := map[plan.Grade]int{}
	for _, f := range rep.Findings {
		count[f.Grade]++
	}
	pieces := fmt.Sprintf("%s: %s in %s", rep.Kit.Name, many(len(rep.Kit.Pieces), "piece"), many(len(rep.Constraints.Steps), "step"))
	more := ""
	if n := count[plan.Caution]; n > 0 {
		more += ", " + many(n, "caution")
	}
	if n := count[plan.Note]; n > 0 {
		more += ", " + many(n, "note")
	}
	if rep.OK() {
		return fmt.Sprintf("%s. Every piece can reach its seat%s.", pieces, more)
	}
	return fmt.Sprintf("%s. %s to mend%s.", pieces, many(count[plan.Fault], "fault"), more)
}

func many(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// mends leads in the repairs of a finding: those of meshes and of what another scale
// breaks are advice, all others have been tried.
func mends(f plan.Finding) string {
	switch f.Kind {
	case plan.Meshes, rescale.Walls, rescale.Seating, rescale.Clearances:
		return "what to do"
	}
	return "any one of these mends it"
}

// saysEnough are the kinds of faults for which no repairs are looked for: what is
// said is what must be mended.
var saysEnough = map[string]bool{"file": true, plan.Meshes: true, plan.Clashes: true}

// findingsText prints findings with their reasons and repairs. tried says that repairs
// were looked for.
func findingsText(w io.Writer, list []plan.Finding, tried bool) error {
	s := styleFor(w)
	p := &printer{w: w}
	for _, f := range list {
		p.line("%s", s.bold(fmt.Sprintf("%s, %s", f.Grade, f.Kind)))
		p.wrap("  ", "  ", f.Text+".")
		if len(f.Because) > 0 {
			p.line("  because")
			for i, b := range f.Because {
				at := ""
				if b.At != "" {
					at = "  (" + b.At + ")"
				}
				p.wrap(fmt.Sprintf("  %3d. ", i+1), "       ", b.Text+at)
			}
		}
		if len(f.Repairs) > 0 {
			p.line("  %s", mends(f))
			for _, r := range f.Repairs {
				p.wrap("     - ", "       ", r.Text)
			}
		}
		if len(f.Repairs) == 0 && f.Grade == plan.Fault && tried && !saysEnough[f.Kind] {
			p.line("  no single change that was tried mends it")
		}
		p.line("")
	}
	return p.err
}
