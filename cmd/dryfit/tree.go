package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz"
	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/project"
)

type treeOptions struct {
	output // of which only JSON is asked for: a drawing has formats of its own
	out    string
	force  bool
}

func newTree() *cobra.Command {
	var o treeOptions
	cmd := ofKit(&cobra.Command{
		Use:   "tree KIT",
		Short: "Draw the assembly tree on one A3 sheet",
		Long: `tree draws the assembly tree, from single pieces up to the finished model: a box for
each sub-build, a row for each step, closings in reverse. Pieces that cannot be fitted
are marked.

The drawing goes to standard output, or to a file with --out, whose extension then
gives the format. A file that dryfit has not written is replaced only with --force.`,
	}, o.run)
	o.cmd = cmd
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "", "format: "+strings.Join(graphviz.Formats, ", ")+" (default: by the extension of --out, or svg)")
	f.StringVarP(&o.out, "out", "o", "", "file to write")
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	f.BoolVar(&o.json, "json", false, "print the tree as JSON instead of drawing it")
	completeFlag(cmd, "format", graphviz.Formats)
	return cmd
}

func (o *treeOptions) run(path string) error {
	if o.format == "" {
		o.format = "svg"
		if o.out != "" {
			o.format = strings.TrimPrefix(strings.ToLower(filepath.Ext(o.out)), ".")
		}
	}
	if !slices.Contains(graphviz.Formats, o.format) {
		return fmt.Errorf("unknown format %q: use one of %s", kits.Plain(o.format), strings.Join(graphviz.Formats, ", "))
	}
	p, err := o.load(path, project.Options{})
	if err != nil {
		return err
	}
	w := o.cmd.OutOrStdout()
	if o.json {
		err = document.WriteJSON(w, report.Tree(p))
	} else {
		err = o.draw(o.cmd.Context(), w, p)
	}
	if err != nil {
		return err
	}
	return verdict(o.cmd.ErrOrStderr(), path, p, true)
}

func (o *treeOptions) draw(ctx context.Context, w io.Writer, p *plan.Project) error {
	if o.out == "" && (o.format == "png" || o.format == "pdf") {
		if err := notOnTerminal(w, strings.ToUpper(o.format)); err != nil {
			return err
		}
	}
	data, err := stopping.Soon(ctx, func() ([]byte, error) { return graphviz.Tree(ctx, p, o.format) })
	if err != nil {
		return err
	}
	if o.out == "" {
		_, err = w.Write(data)
		return err
	}
	return atomicfile.Write(o.out, data, o.force, graphviz.Ours)
}
