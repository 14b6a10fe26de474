package main

import (
	"context"
	"os"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
	"dryfit/plan/totals"
)

func newTotals() *cobra.Command {
	var o output
	cmd := ofKit(&cobra.Command{
		Use:   "totals KIT",
		Short: "Sum up material, hours, cost, paint, glue and the mass to send",
		Long: `totals sums up what a kit takes: for each material the mass with supports and waste,
bottles or spools, their cost and the hours on printers; paint by colour with area and
amount; adhesives by glued area; and the mass of the parcel. A material states its
package and price in the kit, a part its colour. The ratios that it uses are printed
with it. They are estimates to buy by.`,
	}, func(kit string) error {
		return o.run(kit, project.Options{}, func(p *plan.Project) (*report.Report, error) {
			made, err := planIfPrinters(o.cmd.Context(), p)
			if err != nil {
				return nil, err
			}
			sums, err := totals.Make(p, made)
			if err != nil {
				return nil, err
			}
			return report.Totals(p, made, sums), nil
		})
	})
	o.addTo(cmd, document.Formats(true)...)
	return cmd
}

// planIfPrinters plans the printing of a kit without a look at layers; nil for a kit
// that names no printers.
func planIfPrinters(ctx context.Context, p *plan.Project) (*printing.Plan, error) {
	if len(p.Kit.Printers) == 0 {
		return nil, nil
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	made, _, err := project.Printing(ctx, p, func(r *printing.Request) {
		r.NoLayers = true
		r.Progress = func(share float64) { progress.show("planning the printing", share) }
	}, progress.warn)
	return made, err
}
