package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/project"
)

// output is how a command prints what it has found out.
type output struct {
	format  string
	json    bool
	formats []string
	cmd     *cobra.Command
}

// addTo gives a command the options for its output.
func (o *output) addTo(cmd *cobra.Command, formats ...string) {
	o.formats, o.cmd = formats, cmd
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "text", "how to print it: "+strings.Join(formats, ", "))
	f.BoolVar(&o.json, "json", false, "the same as --format json; dryfit help json describes it")
	completeFlag(cmd, "format", formats)
}

// completeFlag completes a flag with fixed words.
func completeFlag(cmd *cobra.Command, flag string, words []string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was defined a line before
	}
}

// check refuses a format that the command does not have, before any work is done.
func (o *output) check() error {
	if o.json {
		o.format = "json"
	}
	if !slices.Contains(o.formats, o.format) {
		return fmt.Errorf("unknown format %q: use one of %s", kits.Plain(o.format), strings.Join(o.formats, ", "))
	}
	if o.format == "pdf" {
		return notOnTerminal(o.cmd.OutOrStdout(), "PDF")
	}
	return nil
}

// notOnTerminal refuses to write what no terminal can show.
func notOnTerminal(w io.Writer, what string) error {
	if document.IsTerminal(w) {
		return fmt.Errorf("a %s would garble the terminal; write it to a file", what)
	}
	return nil
}

// maker makes a report of a kit.
type maker func(*plan.Project) (*report.Report, error)

// always is a maker that cannot fail.
func always(make func(*plan.Project) *report.Report) maker {
	return func(p *plan.Project) (*report.Report, error) { return make(p), nil }
}

// ordered is a maker for kits with a proven order; for others it says why there is none.
func ordered(make maker) maker {
	return func(p *plan.Project) (*report.Report, error) {
		if p.Sequence == nil {
			return report.NoOrder(p), nil
		}
		return make(p)
	}
}

// run loads a kit and prints a report of it.
func (o *output) run(path string, load project.Options, make maker) error {
	if err := o.check(); err != nil {
		return err
	}
	p, err := o.load(path, load)
	if err != nil {
		return err
	}
	r, err := stopping.Soon(o.cmd.Context(), func() (*report.Report, error) { return make(p) })
	if err != nil {
		return o.fail(path, err)
	}
	return o.print(path, p, r)
}

// load loads a kit; an error has been reported in JSON if that was asked for.
func (o *output) load(path string, options project.Options) (*plan.Project, error) {
	p, err := load(o.cmd.Context(), path, options)
	if err != nil {
		return nil, o.fail(path, err)
	}
	return p, nil
}

// fail ends a command that could not do its work, in JSON if that was asked for.
func (o *output) fail(path string, err error) error {
	if o.format != "json" && !o.json {
		return err
	}
	if err := document.WriteJSON(o.cmd.OutOrStdout(), report.Failed(path, err)); err != nil {
		return err
	}
	return errShown
}

// end writes a report that all findings are in, and ends the command by the verdict.
func (o *output) end(r document.Report, ok bool) error {
	if err := document.Write(o.cmd.OutOrStdout(), o.format, r); err != nil {
		return err
	}
	if !ok {
		return errFindings
	}
	return nil
}

// print writes a report, and what stands beside it on standard error, and ends the
// command by the verdict.
func (o *output) print(path string, p *plan.Project, r *report.Report) error {
	if r.Document == nil && o.format != "json" {
		return o.unordered(p)
	}
	if err := o.beside(r); err != nil {
		return err
	}
	if err := document.Write(o.cmd.OutOrStdout(), o.format, r.Report); err != nil {
		return err
	}
	return verdict(o.cmd.ErrOrStderr(), path, p, r.OK)
}

// unordered says on standard error why a kit has no proven order.
func (o *output) unordered(p *plan.Project) error {
	if err := document.WriteText(o.cmd.ErrOrStderr(), report.Check(p).Document); err != nil {
		return err
	}
	return errFindings
}

// beside writes the findings that the results have no room for.
func (o *output) beside(r *report.Report) error {
	if o.format == "json" {
		return nil
	}
	if err := document.WriteText(o.cmd.ErrOrStderr(), report.Findings(r.Beside, false)); err != nil {
		return err
	}
	if o.format != "csv" {
		return nil
	}
	return document.WriteText(o.cmd.ErrOrStderr(), report.Findings(r.Within, true))
}

// verdict ends every command that shows a kit: with a line on standard error when the kit
// has faults, and status 1 when it has, or when the subject of the command has.
func verdict(messages io.Writer, path string, p *plan.Project, ok bool) error {
	if n := p.Count(plan.Fault); n > 0 {
		if _, err := fmt.Fprintf(messages, "dryfit: %s, see dryfit check %s\n", english.Count(n, "fault"), kits.Plain(path)); err != nil {
			return err
		}
	}
	if !ok || !p.OK() {
		return errFindings
	}
	return nil
}
