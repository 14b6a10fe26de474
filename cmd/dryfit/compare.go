package main

import (
	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits/stopping"
	"dryfit/plan/compare"
	"dryfit/plan/project"
)

func newCompare() *cobra.Command {
	var o output
	var all bool
	cmd := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Compare two revisions of a kit, and say which prints stay good",
		Long: `compare says what a new revision of a kit changes. It lists parts that are new, gone,
renamed or changed, joins, spaces, wires, tasks and service, steps that moved, findings
that came and went, and which prints stay good. Prints are judged by the content of their
meshes: the same, the same shape moved to another place, or another shape; without meshes
by what the file says.

dryfit help progress says how revisions are compared.

Exit status: 0 compared, 1 the new revision has faults that the old one had not, 2 the
command could not do its work.`,
		Args: exactly(2),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) < 2 {
				return []cobra.Completion{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
			}
			return nil, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error { return runCompare(&o, args[0], args[1], all) },
	}
	o.addTo(cmd, document.Formats(false)...)
	cmd.Flags().BoolVar(&all, "all", false, "leave nothing out of long lists")
	return cmd
}

func runCompare(o *output, older, newer string, all bool) error {
	if err := o.check(); err != nil {
		return err
	}
	was, err := o.load(older, project.Options{})
	if err != nil {
		return err
	}
	is, err := o.load(newer, project.Options{})
	if err != nil {
		return err
	}
	c, err := stopping.Soon(o.cmd.Context(), func() (*compare.Comparison, error) { return compare.Compare(was, is) })
	if err != nil {
		return o.fail(newer, err)
	}
	return o.end(report.Compare(was, is, c, all).Report, c.OK())
}
