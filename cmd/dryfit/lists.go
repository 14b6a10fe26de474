package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/project"
)

// listOptions are those of the commands that print one list: balance, lights, magnets.
type listOptions struct {
	format string
	json   bool
}

var listFormats = []string{"text", "csv", "json"}

// list is what such a command prints.
type list interface {
	text(p *printer, s style)
	rows() [][]string // the first has the headings
	data() any        // for JSON
	findings() []plan.Finding
}

func (o *listOptions) addFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "text", "how to print it: "+strings.Join(listFormats, ", "))
	f.BoolVar(&o.json, "json", false, "the same as --format json")
	completeFlag(cmd, "format", listFormats)
}

// runList makes a list of a kit and prints it; faults in it end the command with
// status 1.
func runList(ctx context.Context, w, messages io.Writer, path string, o listOptions, n needs, list func(*plan.Project) list) error {
	if o.json {
		o.format = "json"
	}
	show := map[string]func(io.Writer, listed) error{"text": listText, "csv": listCSV, "json": listJSON}[o.format]
	if show == nil {
		return fmt.Errorf("--format %s is none of %s", kits.Plain(o.format), strings.Join(listFormats, ", "))
	}
	rep, err := load(ctx, path, project.Options{Require: n.require})
	if err != nil {
		if o.format == "json" {
			return failJSON(w, path, err)
		}
		return err
	}
	l := list(rep)
	found := l.findings()
	if o.format == "csv" {
		if err := findingsText(messages, found, true); err != nil {
			return err
		}
	}
	if err := show(w, listed{l, found}); err != nil {
		return err
	}
	for _, f := range found {
		if f.Grade == plan.Fault {
			return errFindings
		}
	}
	return nil
}

// needs is what a kit must say for a list to be made.
type needs struct {
	what    string
	has     func(*kits.Kit) bool
	example string
}

// require is the error of a kit that does not say enough.
func (n needs) require(k *kits.Kit) error {
	if n.has(k) {
		return nil
	}
	return fmt.Errorf("%s says nothing of its %s; add it, for example:\n\n%s\n\ndryfit schema --reference tells all keys", kits.Plain(k.File), n.what, n.example)
}

// listed is a list with what was found.
type listed struct {
	list
	found []plan.Finding
}

func listText(w io.Writer, l listed) error {
	p := &printer{w: w}
	l.text(p, styleFor(w))
	if len(l.found) > 0 {
		p.line("")
	}
	if p.err != nil {
		return p.err
	}
	return findingsText(w, l.found, true)
}

func listCSV(w io.Writer, l listed) error {
	return writeCSV(w, l.rows())
}

func listJSON(w io.Writer, l listed) error { return writeJSON(w, l.data()) }

// headed is what the JSON of every list begins with.
type headed struct {
	Kit      string         `json:"kit"`
	OK       bool           `json:"ok"` // no fault among the findings
	Findings []plan.Finding `json:"findings"`
}

func head(k *kits.Kit, found []plan.Finding) headed {
	h := headed{k.Name, true, complete(found)}
	for _, f := range found {
		h.OK = h.OK && f.Grade != plan.Fault
	}
	return h
}
