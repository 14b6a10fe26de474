package main

import (
	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/plan/project"
)

func newCheck() *cobra.Command {
	var o output
	cmd := ofKit(&cobra.Command{
		Use:   "check KIT",
		Short: "Find out whether every piece can reach its seat",
		Long: `check proves that the kit has a build order, or lists what is wrong. It names the
pieces that are trapped or unreachable, the statements of the kit file that contradict
one another, and single changes that were tried and fix it. Ballast, lights and magnets
are checked as far as the kit describes them.`,
	}, func(kit string) error { return runCheck(&o, kit) })
	o.addTo(cmd, document.Formats(false)...)
	return cmd
}

func runCheck(o *output, path string) error {
	if err := o.check(); err != nil {
		return err
	}
	p, err := o.load(path, project.Options{})
	if err != nil {
		return err
	}
	return o.end(report.Check(p).Report, p.OK())
}
