package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/plates"
	"dryfit/graphviz/report"
	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/english"
	"dryfit/kits/mesh/stl"
	"dryfit/kits/mesh/threemf"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
)

type printingOptions struct {
	output
	out   string
	stl   bool
	force bool
	parts bool
	aim   string

	coupon string
}

func newPrinting() *cobra.Command {
	var o printingOptions
	cmd := ofKit(&cobra.Command{
		Use:   "printing KIT",
		Short: "Plan the printing: what fits which printer, plates, what to print first",
		Long: `printing puts all pieces of a kit on plates of the printers that the kit names. It says
how each part lies, how long a plate takes, its mass, and when each sub-build has its
pieces. What the build needs first is printed first; --aim plates takes as few plates as
possible instead, and --aim time ends as soon as possible. With meshes it looks at the
layers of each part as well; without, parts are taken as boxes of their size. What the
progress file says is printed is not planned again.

--out writes each plate into a folder: as a 3MF file, in which every piece is an object
that lies as planned, and as a drawing to scale; and plates.pdf, with a page for each
plate. --stl adds an STL file for each. --format svg draws all plates on one sheet.`,
	}, o.run)
	o.addTo(cmd, append(document.Formats(true), "svg")...)
	f := cmd.Flags()
	f.BoolVar(&o.parts, "parts", false, "list every part as well: how it lies, its layers")
	f.StringVar(&o.aim, "aim", printing.Aims[0], "what plates are filled for: "+strings.Join(printing.Aims, ", "))
	completeFlag(cmd, "aim", printing.Aims)
	f.StringVarP(&o.out, "out", "o", "", "folder for the plates: 3MF, drawings and plates.pdf")
	f.BoolVar(&o.stl, "stl", false, "with --out: an STL file of each plate as well")
	f.StringVar(&o.coupon, "coupon", "", "write a small test print with the fits of the kit to this 3MF file, and nothing else")
	f.BoolVar(&o.force, "force", false, "replace files that dryfit has not written")
	return cmd
}

// needPrinters is asked of a kit for which a printing is planned.
var needPrinters = needs{"printers", func(k *kits.Kit) bool { return len(k.Printers) > 0 }, `printers:
  my-resin: {process: resin, volume: [150, 90, 160], exposure: 3s}
  my-filament: {process: filament, volume: [240, 230, 220]}

with the volume that can really be used`}

// checkFlags refuses flags that do not go together.
func (o *printingOptions) checkFlags() error {
	switch {
	case !slices.Contains(printing.Aims, o.aim):
		return fmt.Errorf("unknown aim %q: use one of %s", kits.Plain(o.aim), strings.Join(printing.Aims, ", "))
	case o.out != "" && (o.json || o.cmd.Flags().Changed("format")):
		return errors.New("--out writes files of its own kinds; leave --format and --json out")
	case o.stl && o.out == "":
		return errors.New("--stl needs a folder to write to: add --out FOLDER")
	}
	return o.check()
}

func (o *printingOptions) run(path string) error {
	if o.coupon != "" {
		return o.writeCoupon(path)
	}
	if err := o.checkFlags(); err != nil {
		return err
	}
	p, err := o.load(path, project.Options{Require: needPrinters.require, Progress: true})
	if err != nil {
		return err
	}
	made, err := o.plan(p)
	if err != nil {
		return o.fail(path, err)
	}
	r := made.Report(o.parts)
	if o.out == "" && o.format != "svg" {
		return o.print(path, p, r)
	}
	if err := o.beside(r); err != nil {
		return err
	}
	w := o.cmd.OutOrStdout()
	if o.out == "" {
		_, err = w.Write(made.Sheet())
	} else {
		err = o.write(w, made)
	}
	if err != nil {
		return err
	}
	return verdict(o.cmd.ErrOrStderr(), path, p, r.OK)
}

func (o *printingOptions) plan(p *plan.Project) (*report.Printing, error) {
	progress := newProgress(os.Stderr)
	defer progress.done()
	return report.PlanPrinting(o.cmd.Context(), p, printing.Aim(o.aim), func(share float64) { progress.show("planning the printing", share) })
}

// write writes all plates into a folder, and says what no file could hold.
func (o *printingOptions) write(w io.Writer, p *report.Printing) error {
	if err := os.MkdirAll(o.out, 0o755); err != nil {
		return err
	}
	var left []string
	for _, plate := range p.Plates {
		if err := o.writePlate(p, plate); err != nil {
			return err
		}
		for _, x := range plates.Left(plate) {
			left = append(left, x.Piece.ID)
		}
	}
	data, err := p.PlateSheet().PDF()
	if err != nil {
		return err
	}
	if err := o.put("plates.pdf", data); err != nil {
		return err
	}
	fmt.Fprintf(w, "wrote %s to %s\n", english.Count(len(p.Plates), "plate"), kits.Plain(o.out))
	if len(left) > 0 {
		fmt.Fprintf(w, "not in the files, since there is no mesh: %s\n", english.And(left, 12))
	}
	old, err := o.stale(p)
	if len(old) > 0 {
		fmt.Fprintf(w, "of an earlier plan, and not for printing: %s\n", english.And(old, 12))
	}
	return err
}

// plateFile is the name of what is written for one plate.
var plateFile = regexp.MustCompile(`^(plate-\d{2,})\.(3mf|stl|svg)$`)

// writtenBy tells files that dryfit has written, by their endings.
var writtenBy = map[string]func(file []byte) bool{".3mf": threemf.Ours, ".pdf": document.OursPDF, ".stl": stl.Ours, ".svg": svg.Ours}

// stale lists files of plates that dryfit has written into the folder and that are neither
// in the plan nor printed.
func (o *printingOptions) stale(p *report.Printing) (names []string, err error) {
	known := p.Printed()
	for _, plate := range p.Plates {
		known[plates.Name(plate)] = true
	}
	list, err := os.ReadDir(o.out)
	for _, f := range list {
		name := plateFile.FindStringSubmatch(f.Name())
		if name == nil || known[name[1]] || !f.Type().IsRegular() {
			continue
		}
		data, err := os.ReadFile(filepath.Join(o.out, f.Name()))
		if err != nil {
			return names, err
		}
		if writtenBy[filepath.Ext(f.Name())](data) {
			names = append(names, f.Name())
		}
	}
	return names, err
}

func (o *printingOptions) writePlate(p *report.Printing, plate *printing.Plate) error {
	name := plates.Name(plate)
	if err := o.put(name+".svg", p.Drawing(plate)); err != nil {
		return err
	}
	if len(plates.Left(plate)) == len(plate.Pieces) {
		return nil
	}
	data, err := plates.Package(plate)
	if err != nil {
		return err
	}
	if err := o.put(name+".3mf", data); err != nil || !o.stl {
		return err
	}
	if data, err = plates.Solids(plate); err != nil {
		return err
	}
	return o.put(name+".stl", data)
}

func (o *printingOptions) put(name string, data []byte) error {
	return atomicfile.Write(filepath.Join(o.out, name), data, o.force, writtenBy[filepath.Ext(name)])
}
