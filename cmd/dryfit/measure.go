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

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/draft"
	"dryfit/plan/project"
)

type measureOptions struct {
	draft     string
	json      bool
	force     bool
	pitch     float64
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
		Long: `measure reads the meshes of all pieces where they stand in the finished model: a
folder of STL, 3MF or OBJ files, one 3MF or OBJ file with many objects, or a kit
that names its meshes. It reports size, volume and health of each, what touches and
what overlaps, who is in whose way, and how the model comes apart; read backwards
that is how it goes together. With --draft it writes a first kit file.

` + exitHelp,
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.unitsSaid = cmd.Flags().Changed("units")
			return runMeasure(cmd.Context(), cmd.OutOrStdout(), args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.draft, "draft", "", "write a first kit file here")
	f.BoolVar(&o.json, "json", false, "print JSON")
	f.BoolVar(&o.force, "force", false, "replace a file that is there")
	f.Float64Var(&o.pitch, "pitch", 0, "mm between sample lines; finer finds less and takes longer (default: 0.3, less for small models)")
	f.BoolVar(&o.fresh, "fresh", false, "measure anew, whatever was measured before")
	f.StringVar(&o.units, "units", "mm", "unit of STL and OBJ files, which state none: mm, cm, in")
	completeFlag(cmd, "units", []string{"mm", "cm", "in"})
	return cmd
}

func runMeasure(ctx context.Context, w io.Writer, path string, o measureOptions) error {
	m, err := measure(ctx, path, o)
	if err != nil {
		if o.json {
			return failJSON(w, path, err)
		}
		return err
	}
	var drafted *plan.Project
	if o.draft != "" {
		if drafted, err = writeDraft(ctx, m, path, o); err != nil {
			return err
		}
	}
	if o.json {
		err = writeJSON(w, m)
	} else {
		err = measureText(w, m)
	}
	if err == nil && drafted != nil && !o.json {
		_, err = fmt.Fprintf(w, "wrote %s: %s\nnext: edit it, then dryfit check %[1]s\n", kits.Plain(o.draft), verdict(drafted))
	}
	if err == nil && (!m.OK || drafted != nil && !drafted.OK()) {
		err = errFindings
	}
	return err
}

// measure measures a folder or file of meshes, or those of a kit.
func measure(ctx context.Context, path string, o measureOptions) (*draft.Measurement, error) {
	if o.pitch < 0 {
		return nil, errors.New("--pitch must be a positive number of mm")
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
	so := project.Options{Pitch: o.pitch, Unit: unit, Fresh: o.fresh, Tell: p.show, Warn: p.warn, Measuring: roomy}
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
func writeDraft(ctx context.Context, m *draft.Measurement, path string, o measureOptions) (*plan.Project, error) {
	meshes, err := relative(filepath.Dir(o.draft), path)
	if err != nil {
		return nil, err
	}
	name, err := kitName(path)
	if err != nil {
		return nil, err
	}
	text, rep, err := m.Draft(ctx, o.draft, name, meshes, o.units, unitsMM[o.units])
	if err != nil {
		return nil, err
	}
	never := func([]byte) bool { return false } // a kit file may hold the user's own work
	return rep, writeFile(o.draft, text, o.force, never)
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

func measureText(w io.Writer, m *draft.Measurement) error {
	s := styleFor(w)
	p := &printer{w: w}
	p.line("%s", s.bold(fmt.Sprintf("%s, looked at along %d directions with lines %.3g mm apart", many(len(m.Pieces), "piece"), m.Directions, m.Pitch)))
	p.line("%s", "What is in the way over a disc of "+fmt.Sprintf("%.3g", 1.5*m.Pitch)+" mm or more is found; overlaps up to "+fmt.Sprintf("%.3g", m.Depth)+" mm deep count as touching.")
	p.line("")
	wide := 5
	for _, c := range m.Pieces {
		wide = max(wide, len(c.Piece))
	}
	p.line("%-*s  %26s  %12s  %11s  %9s  %8s", wide, "piece", "size mm", "volume mm3", "area mm2", "triangles", "thinnest")
	for _, c := range m.Pieces {
		p.line("%-*s  %8.2f x %7.2f x%7.2f  %12.1f  %11.1f  %9d  %8.2f", wide, c.Piece, c.Size[0], c.Size[1], c.Size[2], c.Volume, c.Area, c.Triangles, c.ThinnestWall)
	}
	p.line("")
	p.line("%s of pieces %s.", many(m.Contacts(), "pair"), map[bool]string{true: "touches", false: "touch"}[m.Contacts() == 1])
	p.line("")
	if len(m.Steps) > 0 {
		p.line("%s", s.bold("Going together"))
		for i, st := range m.Steps {
			p.wrap(fmt.Sprintf("%4d. ", i+1), "      ", st.Text)
		}
		p.line("")
	}
	if len(m.Spaces) > 0 {
		p.line("%s", s.bold("Spaces"))
		for _, sp := range m.Spaces {
			p.wrap("  - ", "    ", sp.Text)
		}
		p.line("")
	}
	if p.err != nil {
		return p.err
	}
	if err := findingsText(w, m.Findings, false); err != nil {
		return err
	}
	p.line("%s", m.Verdict())
	return p.err
}
