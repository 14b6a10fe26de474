package main

import (
	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/plan"
	"dryfit/plan/project"
)

func newOrder() *cobra.Command {
	var o output
	var cost bool
	cmd := ofKit(&cobra.Command{
		Use:   "order KIT",
		Short: "Print the numbered build sequence",
		Long: `order prints a proven build sequence. At each step every piece can still reach its
seat. Before a step that shuts something for good it lists what can never be reached
again.`,
	}, func(kit string) error {
		return o.run(kit, project.Options{}, func(p *plan.Project) (*report.Report, error) {
			if cost && p.Sequence != nil {
				if err := document.WriteText(o.cmd.ErrOrStderr(), report.Cost(p.Sequence)); err != nil {
					return nil, err
				}
			}
			return report.Order(p), nil
		})
	})
	o.addTo(cmd, document.Formats(true)...)
	cmd.Flags().BoolVar(&cost, "cost", false, "print what the order costs, term by term, on standard error")
	return cmd
}
