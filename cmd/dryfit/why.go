package main

import (
	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/explain"
	"dryfit/plan/project"
)

func newWhy() *cobra.Command {
	var o output
	cmd := &cobra.Command{
		Use:   "why KIT PIECE",
		Short: "Say when a piece must go in, and why",
		Long: `why explains when a piece goes in. It says at which step, how early and how late it
could be, what must come before and after it and why, and which openings it passes.
PIECE is a piece such as seat.2, a part, a wire, or the name of a step.

` + exitHelp,
		Args:              exactly(2),
		ValidArgsFunction: completeKit(pieceIDs),
		RunE: func(_ *cobra.Command, args []string) error {
			return o.run(args[0], project.Options{}, func(p *plan.Project) (*report.Report, error) {
				list, err := explain.Ask(p, args[1])
				if err != nil {
					return nil, err
				}
				return report.Why(p, list), nil
			})
		},
	}
	o.addTo(cmd, document.Formats(false)...)
	return cmd
}

// pieceNames lists the pieces of a kit, each with the name of its part.
func pieceNames(kit *kits.Kit) (list []cobra.Completion) {
	for _, p := range kit.Pieces {
		list = append(list, cobra.CompletionWithDesc(p.ID, kits.Plain(p.Part.Name)))
	}
	return list
}

// pieceIDs lists what why can be asked about; nothing if the kit cannot be read.
func pieceIDs(path string) []cobra.Completion {
	kit, err := kits.ReadFile(path)
	if err != nil {
		return nil
	}
	list := pieceNames(kit)
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
