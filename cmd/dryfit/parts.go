package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/plan"
	"dryfit/plan/project"
)

func newParts() *cobra.Command {
	var o output
	cmd := ofKit(&cobra.Command{
		Use:   "parts KIT",
		Short: "List parts, hardware and what is used up",
		Long: `parts lists what a kit consists of, with quantities, spares to have and the steps that
each part comes in. Printed parts come first, by the sub-build that they are first used
in, then hardware, jigs and spares, then adhesives and tools. Mirrored pairs, and parts
that look alike and are not, are marked. Spares marked * are a suggestion: one, or a
tenth (common practice).`,
	}, func(kit string) error {
		return o.run(kit, project.Options{Progress: true}, ordered(func(p *plan.Project) (*report.Report, error) {
			if p.Meshes == nil && o.format != "json" && o.format != "csv" {
				fmt.Fprintln(o.cmd.ErrOrStderr(), "dryfit: the kit names no meshes, so parts that look alike are not known")
			}
			return report.Parts(p), nil
		}))
	})
	o.addTo(cmd, document.Formats(true)...)
	return cmd
}
