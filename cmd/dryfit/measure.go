package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/plan"
	"dryfit/plan/draft"
	"dryfit/plan/project"
)

type measureOptions struct {
	output
	draft     string
	force     bool
	pitch     float64
	fit       float64
	all       bool
	fresh     bool
	units     string
	unitsSaid bool
}

var unitsMM = map[string]float64{"mm": 1, "cm": 10, "in": 25.4}

func newMeasure() *cobra.Command {
	var o measureOptions
	cmd := &cobra.Command{
		Use:   "measure FOLDER|FILE|KIT",
		Short: "Find out from the meshes what touches, what blocks and in which order it goes together",
		Long: `measure reads the meshes of all pieces where they stand in the finished model. Give it
a folder of STL, 3MF or OBJ files, one 3MF or OBJ file with many objects, or a kit that
names its meshes. It reports size, volume and health of each, what touches and what
overlaps, what blocks what, and how the model comes apart; read backwards, that is how it
goes together. With --draft it writes a first kit file.

` + exitHelp,
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.unitsSaid = cmd.Flags().Changed("units")
			return o.run(args[0])
		},
	}
	o.addTo(cmd, document.Formats(false)...)
	f := cmd.Flags()
	f.StringVar(&o.draft, "draft", "", "write a first kit file here")
	f.BoolVar(&o.force, "force", false, "replace a file that is there")
	f.Float64Var(&o.pitch, "pitch", 0, "mm between sample lines; smaller values detect smaller overlaps and take longer (default: 0.3, less for small models)")
	f.Float64Var(&o.fit, "fit", 0, "gap in mm up to which pieces are neighbours (default 0.5, or what the kit says)")
	f.BoolVar(&o.all, "all", false, "tell all that was measured: every piece, every step and every space")
	f.BoolVar(&o.fresh, "fresh", false, "measure again, even what was measured before")
	f.StringVar(&o.units, "units", "mm", "unit of STL and OBJ files, which state none: mm, cm, in")
	completeFlag(cmd, "units", []string{"mm", "cm", "in"})
	return cmd
}

func (o *measureOptions) run(path string) error {
	if err := o.check(); err != nil {
		return err
	}
	m, err := measure(o.cmd.Context(), path, o)
	if err != nil {
		return o.fail(path, err)
	}
	var drafted *plan.Project
	if o.draft != "" {
		if drafted, err = writeDraft(o.cmd.Context(), m, path, o); err != nil {
			return err
		}
	}
	name, err := kitName(path)
	if err != nil {
		return err
	}
	if err := document.Write(o.cmd.OutOrStdout(), o.format, report.Measure(name, m, o.all).Report); err != nil {
		return err
	}
	if err := o.sayDrafted(drafted); err != nil {
		return err
	}
	if !m.OK || drafted != nil && !drafted.OK() {
		return errFindings
	}
	return nil
}

// sayDrafted says that a kit file was written, below the text of the report or, where
// that is a file, on standard error.
func (o *measureOptions) sayDrafted(p *plan.Project) error {
	if p == nil || o.format == "json" {
		return nil
	}
	w := o.cmd.ErrOrStderr()
	if o.format == "text" {
		w = o.cmd.OutOrStdout()
	}
	_, err := fmt.Fprintf(w, "wrote %s: %s\nnext: edit it, then dryfit check %[1]s\n", kits.Plain(o.draft), report.Verdict(p))
	return err
}

// maxFit is the largest gap, in mm, of pieces that are neighbours.
const maxFit = 5

// measure measures a folder or file of meshes, or those of a kit.
func measure(ctx context.Context, path string, o *measureOptions) (*draft.Measurement, error) {
	if o.pitch < 0 {
		return nil, errors.New("--pitch must be a positive number of mm")
	}
	if !(o.fit >= 0 && o.fit <= maxFit) {
		return nil, fmt.Errorf("--fit must be a number of mm from 0 to %d", maxFit)
	}
	unit, known := unitsMM[o.units]
	if !known {
		return nil, fmt.Errorf("--units must be mm, cm or in, not %q", kits.Plain(o.units))
	}
	if o.draft != "" {
		// Before the long work: a kit file must stand beside or above its meshes.
		meshes, err := relative(filepath.Dir(o.draft), path)
		if err != nil {
			return nil, err
		}
		if !filepath.IsLocal(meshes) || meshes == "." {
			return nil, fmt.Errorf("a kit file names meshes below its own folder; write the draft beside or above %s", kits.Plain(path))
		}
	}
	p := newProgress(os.Stderr)
	defer p.done()
	so := p.options(project.Options{Pitch: o.pitch, Fit: o.fit, Unit: unit, Fresh: o.fresh})
	switch kit := isKit(path); {
	case !kit:
		return draft.MeasureMeshes(ctx, path, so)
	case o.unitsSaid:
		return nil, errors.New("--units is for meshes without a kit file; a kit says its units itself")
	case o.draft != "":
		return nil, errors.New("--draft is for meshes without a kit file; this is one")
	}
	return draft.MeasureKit(ctx, path, so)
}

// isKit reports whether a path is a kit file or holds one.
func isKit(path string) bool {
	if e := strings.ToLower(filepath.Ext(path)); e == ".yaml" || e == ".yml" {
		return true
	}
	_, err := os.Stat(filepath.Join(path, kits.FileName))
	return err == nil
}

// writeDraft writes a first kit file, and checks it.
func writeDraft(ctx context.Context, m *draft.Measurement, path string, o *measureOptions) (*plan.Project, error) {
	meshes, err := relative(filepath.Dir(o.draft), path)
	if err != nil {
		return nil, err
	}
	name, err := kitName(path)
	if err != nil {
		return nil, err
	}
	text, rep, err := m.Draft(ctx, o.draft, name, meshes, o.units, unitsMM[o.units])
	var faults kits.Faults
	if errors.As(err, &faults) {
		// Its lines are those of a file that is not written.
		return nil, fmt.Errorf("no draft can be written of %s: %s", kits.Plain(path), faults[0].Text)
	}
	if err != nil {
		return nil, err
	}
	return rep, atomicfile.Write(o.draft, text, o.force, atomicfile.Never)
}

// kitName names a kit after the folder or file of its meshes.
func kitName(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	info, err := os.Stat(abs)
	if err != nil {
		return "", err
	}
	name := filepath.Base(abs)
	if !info.IsDir() {
		name = strings.TrimSuffix(name, filepath.Ext(name))
	}
	return name, nil
}

// relative is a path as seen from a folder.
func relative(from, path string) (string, error) {
	a, err := filepath.Abs(from)
	if err != nil {
		return "", err
	}
	b, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	return filepath.Rel(a, b)
}
