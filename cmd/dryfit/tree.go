package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"dryfit/graphviz"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/project"
)

type treeOptions struct {
	format string
	out    string
	force  bool
	json   bool
}

func newTree() *cobra.Command {
	var o treeOptions
	cmd := &cobra.Command{
		Use:   "tree KIT",
		Short: "Draw the assembly tree on one A3 sheet",
		Long: `tree draws the kit from single pieces up to the finished model: a box for each
sub-build, a row for each step, closings in reverse. Pieces that cannot be fitted
are marked.

The drawing goes to standard output, or to a file with --out, whose ending then
says the format. A file that dryfit has not written is not replaced without
--force.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runTree(cmd.Context(), cmd.OutOrStdout(), args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "", "format: "+strings.Join(graphviz.Formats, ", ")+" (default: by the ending of --out, or svg)")
	f.StringVarP(&o.out, "out", "o", "", "file to write")
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	f.BoolVar(&o.json, "json", false, "print the tree as JSON instead of drawing it")
	completeFlag(cmd, "format", graphviz.Formats)
	return cmd
}

func runTree(ctx context.Context, w io.Writer, path string, o treeOptions) error {
	if o.format == "" {
		o.format = "svg"
		if ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(o.out)), "."); o.out != "" {
			o.format = ending
		}
	}
	if !slices.Contains(graphviz.Formats, o.format) {
		return fmt.Errorf("format %q is none of %s", kits.Plain(o.format), strings.Join(graphviz.Formats, ", "))
	}
	rep, err := load(ctx, path, project.Options{})
	if err != nil {
		return fail(w, path, o.json, err)
	}
	if o.json {
		err = treeJSON(w, rep)
	} else {
		err = drawTree(ctx, w, rep, o)
	}
	if err == nil && !rep.OK() {
		err = errFindings
	}
	return err
}

func drawTree(ctx context.Context, w io.Writer, rep *plan.Project, o treeOptions) error {
	if o.out == "" && (o.format == "png" || o.format == "pdf") {
		if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
			return fmt.Errorf("a %s would garble the terminal; name a file with --out", o.format)
		}
	}
	data, err := graphviz.Tree(ctx, rep, o.format)
	if err != nil {
		return err
	}
	if o.out == "" {
		_, err = w.Write(data)
		return err
	}
	return writeFile(o.out, data, o.force, graphviz.Ours)
}

// treeNode is a build with its steps, and the builds that are joined in them.
type treeNode struct {
	Letter string     `json:"letter"`
	Name   string     `json:"name"`
	Base   string     `json:"base"`
	Steps  []treeStep `json:"steps"`
}

type treeStep struct {
	Number int       `json:"number"` // 0 when there is no proven order
	Kind   plan.Kind `json:"kind"`
	Text   string    `json:"text"`
	Pieces []string  `json:"pieces"`
	Joins  *treeNode `json:"joins,omitempty"`
}

func treeJSON(w io.Writer, rep *plan.Project) error {
	q := rep.Draft()
	nodes := make([]treeNode, len(q.Builds))
	for u := range nodes {
		nodes[u] = treeNode{Letter: q.Builds[u].Letter, Name: q.Title(u), Steps: []treeStep{}}
		if base := q.Builds[u].Base; base >= 0 {
			nodes[u].Base = rep.Kit.Pieces[base].ID
		}
	}
	joins := map[int]int{}
	for _, u := range q.SubBuilds() {
		joins[q.Builds[u].Join] = u
	}
	for _, v := range q.Order {
		s := rep.Constraints.Steps[v]
		step := treeStep{Kind: s.Kind, Text: rep.Constraints.Does(v), Pieces: []string{}}
		if rep.Sequence != nil {
			step.Number = q.Place[v]
		}
		if s.Join != nil {
			step.Pieces = ids(rep.Kit, s.Join.Pieces)
		}
		if u, ok := joins[v]; ok {
			step.Joins = &nodes[u]
		}
		at := &nodes[q.BuildOf[v]]
		at.Steps = append(at.Steps, step)
	}
	return writeJSON(w, struct {
		Kit  string    `json:"kit"`
		OK   bool      `json:"ok"`
		Tree *treeNode `json:"tree"`
	}{rep.Kit.Name, rep.OK(), first(nodes)})
}

func first(nodes []treeNode) *treeNode {
	if len(nodes) == 0 {
		return nil
	}
	return &nodes[0]
}
