package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/project"
)

type printingOptions struct {
	output
	out   string
	force bool
	parts bool

	coupon string
}

func newPrinting() *cobra.Command {
	var o printingOptions
	cmd := &cobra.Command{
		Use:   "printing KIT",
		Short: "Plan the printing: what fits which printer, plates, what to print first",
		Long: `printing puts all pieces of a kit on plates of the printers that the kit names. It says
how each part lies, how long a plate takes, its mass, and when each sub-build has its
pieces. What the build needs first is printed first. With meshes it looks at the layers
of each part as well; without, parts are taken as boxes of their size.

--format svg draws the plates to scale: on one sheet or, with --out, in a folder with
one file for each plate.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.out != "" && !cmd.Flags().Changed("format") {
				o.format = "svg"
			}
			return o.run(args[0])
		},
	}
	o.addTo(cmd, append(document.Formats(true), "svg")...)
	f := cmd.Flags()
	f.BoolVar(&o.parts, "parts", false, "list every part as well: how it lies, its layers")
	f.StringVarP(&o.out, "out", "o", "", "folder for the drawings of the plates, one file each")
	f.StringVar(&o.coupon, "coupon", "", "write a small test print with the fits of the kit to this 3MF file, and nothing else")
	f.BoolVar(&o.force, "force", false, "replace files that dryfit has not written")
	return cmd
}

// needPrinters is asked of a kit for which a printing is planned.
var needPrinters = needs{"printers", func(k *kits.Kit) bool { return len(k.Printers) > 0 }, `printers:
  my-resin: {process: resin, volume: [150, 90, 160], exposure: 3s}
  my-filament: {process: filament, volume: [240, 230, 220]}

with the volume that can really be used`}

func (o *printingOptions) run(path string) error {
	if o.coupon != "" {
		return o.writeCoupon(path)
	}
	if err := o.check(); err != nil {
		return err
	}
	if o.out != "" && o.format != "svg" {
		return errors.New("--out is for drawings; leave --format out or say --format svg")
	}
	p, err := o.load(path, project.Options{Progress: true, Require: needPrinters.require})
	if err != nil {
		return err
	}
	made, err := o.plan(p)
	if err != nil {
		return o.fail(path, err)
	}
	r := made.Report(o.parts)
	if o.format != "svg" {
		return o.print(path, p, r)
	}
	if err := o.beside(r); err != nil {
		return err
	}
	if err := o.draw(o.cmd.OutOrStdout(), made); err != nil {
		return err
	}
	return verdict(o.cmd.ErrOrStderr(), path, p, r.OK)
}

func (o *printingOptions) plan(p *plan.Project) (*report.Printing, error) {
	progress := newProgress(os.Stderr)
	defer progress.done()
	return report.PlanPrinting(o.cmd.Context(), p, func(share float64) { progress.show("planning the printing", share) })
}

// draw draws all plates on one sheet, or each into a file of its own.
func (o *printingOptions) draw(w io.Writer, p *report.Printing) error {
	if o.out == "" {
		_, err := w.Write(p.Sheet())
		return err
	}
	if err := os.MkdirAll(o.out, 0o755); err != nil {
		return err
	}
	for _, plate := range p.Plates {
		file := filepath.Join(o.out, fmt.Sprintf("plate-%02d.svg", plate.Number))
		if err := atomicfile.Write(file, p.Drawing(plate), o.force, svg.Ours); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintf(w, "wrote %s to %s\n", english.Count(len(p.Plates), "plate"), kits.Plain(o.out))
	return err
}
