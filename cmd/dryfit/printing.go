package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/plates"
	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
)

type printingOptions struct {
	format string
	json   bool
	out    string
	force  bool
	parts  bool
}

var printingFormats = []string{"text", "csv", "json", "svg"}

func newPrinting() *cobra.Command {
	var o printingOptions
	cmd := &cobra.Command{
		Use:   "printing KIT",
		Short: "Plan the printing: what fits which printer, plates, what to print first",
		Long: `printing puts all pieces of a kit on plates of the printers that the kit names: how
each part lies, how long a plate takes, its mass, and when each sub-build has its
pieces. What the build needs first is printed first. With meshes it looks at the
layers of each part as well; without, parts are taken as boxes of their size.

--format svg draws the plates to scale: on one sheet, or with --out one file a plate
into a folder.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.json {
				o.format = "json"
			}
			if o.out != "" && !cmd.Flags().Changed("format") {
				o.format = "svg"
			}
			return runPrinting(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "text", "how to print it: "+strings.Join(printingFormats, ", "))
	f.BoolVar(&o.json, "json", false, "the same as --format json")
	f.BoolVar(&o.parts, "parts", false, "in text, list every part: how it lies, its layers")
	f.StringVarP(&o.out, "out", "o", "", "folder for the drawings of the plates, one file each")
	f.BoolVar(&o.force, "force", false, "replace files that dryfit has not written")
	completeFlag(cmd, "format", printingFormats)
	return cmd
}

// printingPlan is a plan with what it was made from.
type printingPlan struct {
	*printing.Plan
	rep      *plan.Project
	printers []*kits.Printer
	ready    []printing.Ready
	findings []plan.Finding
}

func runPrinting(ctx context.Context, w, messages io.Writer, path string, o printingOptions) error {
	show := map[string]func(io.Writer, *printingPlan, printingOptions) error{
		"text": printingText, "csv": printingCSV, "json": printingJSON, "svg": printingSVG,
	}[o.format]
	switch {
	case show == nil:
		return fmt.Errorf("--format %s is none of %s", kits.Plain(o.format), strings.Join(printingFormats, ", "))
	case o.out != "" && o.format != "svg":
		return errors.New("--out is for drawings; leave --format out or say --format svg")
	}
	p, err := planPrinting(ctx, path)
	if err != nil {
		if o.format == "json" {
			return failJSON(w, path, err)
		}
		return err
	}
	if o.format != "json" {
		if err := findingsText(messages, p.findings, false); err != nil {
			return err
		}
	}
	if err := show(w, p, o); err != nil {
		return err
	}
	for _, f := range p.findings {
		if f.Grade == plan.Fault {
			return errFindings
		}
	}
	return nil
}

// planPrinting reads a kit, finds its order and plans its printing.
func planPrinting(ctx context.Context, path string) (*printingPlan, error) {
	rep, err := load(ctx, path, project.Options{Require: needPrinters})
	if err != nil {
		return nil, err
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	p, err := printingOf(ctx, rep, func(share float64) { progress.show("planning the printing", share) })
	if err != nil {
		return nil, err
	}
	p.findings = append(kitFaults(rep), p.findings...)
	return p, nil
}

// needPrinters is the error of a kit that names no printers.
func needPrinters(kit *kits.Kit) error {
	if len(kit.Printers) == 0 {
		return fmt.Errorf("%s names no printers; add them, for example:\n\nprinters:\n  my-resin: {process: resin, volume: [143, 89, 175], exposure: 2.5s}\n  my-filament: {process: filament, volume: [256, 256, 256]}\n\nwith the volume that can really be used; dryfit schema --reference tells all keys", kits.Plain(kit.File))
	}
	return nil
}

// printingOf plans the printing of a kit that has been checked.
func printingOf(ctx context.Context, rep *plan.Project, progress func(share float64)) (*printingPlan, error) {
	r, missing, err := printing.Ask(rep)
	if err != nil {
		return nil, err
	}
	r.Progress = progress
	p := &printingPlan{rep: rep, printers: rep.Kit.Printers}
	if p.Plan, err = printing.Make(ctx, r); err != nil {
		return nil, err
	}
	p.ready = p.Ready(rep)
	p.findings = p.Findings(rep.Kit.Printers, missing)
	return p, nil
}

// kitFaults tells in one finding that a kit has faults of its own, which check lists.
func kitFaults(rep *plan.Project) []plan.Finding {
	n := 0
	for _, f := range rep.Findings {
		if f.Grade == plan.Fault {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	text := fmt.Sprintf("the kit has %s, see dryfit check", many(n, "fault"))
	if rep.Sequence == nil {
		text += "; without a proven order, pieces are printed in the sequence that the file suggests"
	}
	return []plan.Finding{{Kind: plan.Printing, Grade: plan.Fault, Text: text, Because: []plan.Reason{}, Repairs: []plan.Repair{}}}
}

// printingSVG draws all plates on one sheet, or each into a file of its own.
func printingSVG(w io.Writer, p *printingPlan, o printingOptions) error {
	name := p.rep.Kit.Name
	if o.out == "" {
		_, err := w.Write(plates.Sheet(p.Plates, name))
		return err
	}
	if err := os.MkdirAll(o.out, 0o755); err != nil {
		return err
	}
	for _, plate := range p.Plates {
		file := filepath.Join(o.out, fmt.Sprintf("plate-%02d.svg", plate.Number))
		if err := writeFile(file, plates.Plate(plate, name+"; "+plateSays(plate)), o.force, svg.Ours); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintf(w, "wrote %s to %s\n", many(len(p.Plates), "plate"), kits.Plain(o.out))
	return err
}

// plateSays is what a plate holds, in a few words.
func plateSays(p *printing.Plate) string {
	return fmt.Sprintf("%s, %s, %s", many(len(p.Pieces), "piece"), between(p.Takes), grams(p.Mass()))
}
