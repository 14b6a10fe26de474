package main

import (
	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/plan"
	"dryfit/plan/project"
)

func newNext() *cobra.Command {
	var o output
	var all bool
	cmd := ofKit(&cobra.Command{
		Use:   "next KIT",
		Short: "Say what can be done now, given what is printed and built",
		Long: `next says what can be done now. It reads the progress file beside the kit,
kit.progress.yaml for kit.yaml, which mark keeps. It lists the steps that can be done so
that all others can still follow, and what each of them still waits for; the steps to
hold back, and what they would shut out; what to print next, by the plates of printing if
the kit names printers; and what can no longer reach its place. Steps have the numbers of
order and, in brackets, the name that mark takes.`,
	}, func(kit string) error {
		return o.run(kit, project.Options{Progress: true}, ordered(func(p *plan.Project) (*report.Report, error) {
			return report.Next(o.cmd.Context(), p, all)
		}))
	})
	o.addTo(cmd, document.Formats(false)...)
	cmd.Flags().BoolVar(&all, "all", false, "leave nothing out of long lists")
	return cmd
}
