package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/compare"
	"dryfit/plan/project"
)

type compareOptions struct {
	json bool
	all  bool
}

func newCompare() *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Tell two revisions of a kit apart, and which prints stay good",
		Long: `compare reads two kits, files or folders, and says what the second changes: parts
that are new, gone, renamed or changed, joins, spaces, wires, tasks and service, steps
that moved, findings that came and went, and which prints stay good. Prints are judged by
the content of their meshes: the same, the same shape moved to another place, or another
shape; without meshes by what the file says.

JSON: {"old": {"kit", "ok", "pieces", "steps"}, "new": {the same}, "ok", "same",
"renamed": [{"old", "new", "by"}], "changes": [{"kind", "name", "what", "fields":
[{"field", "old", "new"}]}], "steps": {"known", "added", "gone", "moved": [{"text",
"old", "new"}]}, "prints": [{"piece", "part", "verdict", "why", "by"}], "findings":
{"new", "gone"}}. Kinds are kit, fixing, part, join, space, wire, task and service; what is
added, gone or changed; verdicts are good, moved, redo, alike, untold, new and unneeded.
Steps that are on one side only have the number 0 on the other; by is in mm.

Exit status: 0 compared, 1 the new revision has faults that the old one had not, 2 the
command could not do its work.`,
		Args: exactly(2),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) < 2 {
				return []cobra.Completion{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
			}
			return nil, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCompare(cmd.Context(), cmd.OutOrStdout(), args[0], args[1], o)
		},
	}
	cmd.Flags().BoolVar(&o.json, "json", false, "print JSON")
	cmd.Flags().BoolVar(&o.all, "all", false, "leave nothing out of long lists")
	return cmd
}

func runCompare(ctx context.Context, w io.Writer, older, newer string, o compareOptions) error {
	var sides [2]*plan.Project
	for i, path := range []string{older, newer} {
		var err error
		if sides[i], err = load(ctx, path, project.Options{}); err != nil {
			if o.json {
				return failJSON(w, path, err)
			}
			return err
		}
	}
	c, err := compare.Compare(sides[0], sides[1])
	switch {
	case err != nil && o.json:
		return failJSON(w, newer, err)
	case err != nil:
		return err
	case o.json:
		err = compareJSON(w, sides, c)
	default:
		err = compareText(w, sides, c, o.all)
	}
	if err == nil && !c.OK() {
		err = errFindings
	}
	return err
}

func compareText(w io.Writer, sides [2]*plan.Project, c *compare.Comparison, all bool) error {
	p := &comparePrinter{printer{w: w}, styleFor(w), all}
	p.line("old: %s", verdict(sides[0]))
	p.line("new: %s", verdict(sides[1]))
	if c.Same() {
		p.line("")
		p.line("Nothing differs.")
	}
	p.prints(c.Prints)
	p.section("Renamed", len(c.Renamed), func(i int) {
		r := c.Renamed[i]
		by := "has the same mesh"
		if r.By == "number" {
			by = "has the same number"
		}
		p.line("  %s is now %s (%s)", r.Old, r.New, by)
	})
	for _, kind := range []struct{ kind, title string }{
		{"kit", "The kit"}, {"fixing", "Fixings"}, {"part", "Parts"}, {"join", "Joins"}, {"space", "Spaces"},
		{"wire", "Wires"}, {"task", "Tasks"}, {"service", "Service"},
		{"balance", "Balance"}, {"lights", "Lights"}, {"magnets", "Magnets"},
	} {
		var list []compare.Change
		for _, ch := range c.Changes {
			if ch.Kind == kind.kind {
				list = append(list, ch)
			}
		}
		p.section(kind.title, len(list), func(i int) { p.change(list[i]) })
	}
	p.steps(c.Steps)
	return p.findings(c)
}

// comparePrinter prints what differs.
type comparePrinter struct {
	printer
	style
	all bool
}

// someChanges is how many entries of each kind are shown without --all.
const someChanges = 30

func (p *comparePrinter) section(title string, many int, one func(i int)) {
	if many == 0 {
		return
	}
	p.line("")
	p.line("%s", p.bold(title))
	shown := many
	if !p.all && many > someChanges+1 {
		shown = someChanges
	}
	for i := range shown {
		one(i)
	}
	if shown < many {
		p.line("  and %d more; --all shows them", many-shown)
	}
}

func (p *comparePrinter) change(ch compare.Change) {
	if ch.What != compare.Changed {
		p.wrap("  ", "    ", kits.Plain(ch.Name)+" is "+map[compare.What]string{compare.Added: "new", compare.Gone: "gone"}[ch.What])
		return
	}
	name := ""
	if ch.Name != "" {
		name = kits.Plain(ch.Name) + ": "
	}
	for _, f := range ch.Fields {
		switch {
		case f.Old == "":
			p.wrap("  ", "    ", fmt.Sprintf("%s%s is now %s; it was not given", name, f.Name, kits.Plain(f.New)))
		case f.New == "":
			p.wrap("  ", "    ", fmt.Sprintf("%s%s is no longer given; it was %s", name, f.Name, kits.Plain(f.Old)))
		default:
			p.wrap("  ", "    ", fmt.Sprintf("%s%s was %s and is %s", name, f.Name, kits.Plain(f.Old), kits.Plain(f.New)))
		}
	}
}

func (p *comparePrinter) steps(s compare.Steps) {
	if !s.Known {
		p.line("")
		p.line("The steps are not compared: one of the two has no proven order.")
		return
	}
	p.section("Steps", len(s.Added)+len(s.Gone)+len(s.Moved), func(i int) {
		switch {
		case i < len(s.Added):
			p.wrap("  ", "    ", fmt.Sprintf("%d is new: %s", s.Added[i].New, s.Added[i].Text))
		case i < len(s.Added)+len(s.Gone):
			one := s.Gone[i-len(s.Added)]
			p.wrap("  ", "    ", fmt.Sprintf("%d is gone: %s", one.Old, one.Text))
		default:
			one := s.Moved[i-len(s.Added)-len(s.Gone)]
			p.wrap("  ", "    ", fmt.Sprintf("%d moved to %d: %s", one.Old, one.New, one.Text))
		}
	})
}

func (p *comparePrinter) findings(c *compare.Comparison) error {
	for _, list := range []struct {
		title string
		list  []plan.Finding
	}{{"New findings", c.Findings.New}, {"Findings that are gone", c.Findings.Gone}} {
		if len(list.list) == 0 {
			continue
		}
		p.line("")
		p.line("%s", p.bold(list.title))
		for _, f := range list.list {
			p.wrap("  ", "    ", fmt.Sprintf("%s, %s: %s", f.Grade, f.Kind, f.Text))
		}
	}
	if len(c.Findings.New) > 0 {
		p.line("")
		p.line("dryfit check says more of them.")
	}
	return p.err
}
