package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/explain"
	"dryfit/plan/project"
)

type whyOptions struct{ json bool }

func newWhy() *cobra.Command {
	var o whyOptions
	cmd := &cobra.Command{
		Use:   "why KIT PIECE",
		Short: "Say when a piece must go in, and why",
		Long: `why says at which step a piece goes in, how early and how late it could, what must
come before and after it and why, and through which openings it passes. PIECE is a
piece such as seat.2, a part, a wire, or the name of a step.

` + exitHelp,
		Args:              exactly(2),
		ValidArgsFunction: completeKit(pieceIDs),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runWhy(cmd.Context(), cmd.OutOrStdout(), args[0], args[1], o)
		},
	}
	cmd.Flags().BoolVar(&o.json, "json", false, "print JSON")
	return cmd
}

// pieceIDs lists what why can be asked about; nothing if the kit cannot be read.
func pieceIDs(path string) []cobra.Completion {
	kit, err := kits.ReadFile(path)
	if err != nil {
		return nil
	}
	var list []cobra.Completion
	for _, p := range kit.Pieces {
		list = append(list, cobra.CompletionWithDesc(p.ID, kits.Plain(p.Part.Name)))
	}
	for _, w := range kit.Wires {
		list = append(list, w.ID)
	}
	for _, j := range kit.Joins {
		if j.Step != "" {
			list = append(list, j.Step)
		}
	}
	for _, t := range kit.Tasks {
		if t.Step != "" {
			list = append(list, t.Step)
		}
	}
	return list
}

func runWhy(ctx context.Context, w io.Writer, path, name string, o whyOptions) error {
	rep, err := load(ctx, path, project.Options{})
	var list []explain.Why
	if err == nil {
		list, err = explain.Ask(rep, name)
	}
	switch {
	case err != nil && o.json:
		return failJSON(w, path, err)
	case err != nil:
		return err
	}
	if o.json {
		err = writeJSON(w, struct {
			Kit string        `json:"kit"`
			OK  bool          `json:"ok"`
			Why []explain.Why `json:"why"`
		}{rep.Kit.Name, rep.OK(), list})
	} else {
		err = whyText(w, rep, list)
	}
	if err == nil && slices.ContainsFunc(list, func(y explain.Why) bool { return y.Fault() }) {
		err = errFindings
	}
	return err
}

func whyText(w io.Writer, rep *plan.Project, list []explain.Why) error {
	p := &printer{w: w}
	s := styleFor(w)
	for i, y := range list {
		if i > 0 {
			p.line("")
		}
		p.line("%s", s.bold(y.Name))
		switch {
		case y.Number > 0:
			p.wrap("  ", "  ", fmt.Sprintf("step %d of %d: %s", y.Number, len(rep.Constraints.Steps), y.Text))
			latest := fmt.Sprint(y.Latest)
			if y.LatestBound {
				latest += " at most"
			}
			p.line("  it could be step %d at the earliest, %s at the latest", y.Earliest, latest)
		case y.Text != "":
			p.wrap("  ", "  ", y.Text+"; the kit has no proven order, so it has no number")
		default:
			p.wrap("  ", "  ", y.Base)
		}
		reasons(p, "comes after", y.After)
		reasons(p, "what waits for it", y.Before)
		if len(y.Ways) > 0 {
			p.line("  ways in")
			for _, way := range y.Ways {
				p.wrap("    - ", "      ", way)
			}
		}
		for _, c := range y.LastCall {
			p.wrap("  ", "  ", c)
		}
		if err := findingsText(w, y.Findings, true); err != nil {
			return err
		}
	}
	return p.err
}

func reasons(p *printer, title string, list []plan.Reason) {
	if len(list) == 0 {
		return
	}
	p.line("  %s", title)
	for _, b := range list {
		p.wrap("    - ", "      ", strings.TrimSpace(b.Text+"  ("+b.At+")"))
	}
}
