package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"runtime/debug"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/project"
)

// load finds out all that is known of a kit, and shows progress.
func load(ctx context.Context, path string, o project.Options) (*plan.Project, error) {
	p := newProgress(os.Stderr)
	defer p.done()
	o.Tell, o.Warn, o.Measuring = p.show, p.warn, roomy
	return project.Load(ctx, path, o)
}

// roomy lifts the limit under which small runs keep their memory: meshes need more.
func roomy() {
	debug.SetGCPercent(100)
	debug.SetMemoryLimit(math.MaxInt64)
}

// fileFindings are the faults of a file as findings, or one for an error that is
// none.
func fileFindings(err error) []plan.Finding {
	finding := func(text, at string) plan.Finding {
		f := plan.Finding{Kind: "file", Grade: plan.Fault, Text: text, Because: []plan.Reason{}, Repairs: []plan.Repair{}}
		if at != "" {
			f.Because = []plan.Reason{{Text: text, At: at}}
		}
		return f
	}
	var faults kits.Faults
	if !errors.As(err, &faults) {
		return []plan.Finding{finding(kits.Plain(err.Error()), "")}
	}
	var list []plan.Finding
	for _, f := range faults {
		list = append(list, finding(f.Text, f.Pos.String()))
	}
	return list
}

// findingsJSON is what check prints, and what other commands print when they
// cannot do their work.
type findingsJSON struct {
	Kit      string         `json:"kit"`
	OK       bool           `json:"ok"`
	Findings []plan.Finding `json:"findings"`
}

// complete makes sure that no list is null.
func complete(list []plan.Finding) []plan.Finding {
	out := make([]plan.Finding, len(list))
	for i, f := range list {
		if f.Because == nil {
			f.Because = []plan.Reason{}
		}
		if f.Repairs == nil {
			f.Repairs = []plan.Repair{}
		}
		out[i] = f
	}
	return out
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// fail ends a command that could not do its work, in JSON on w if that was asked for.
func fail(w io.Writer, path string, asJSON bool, err error) error {
	if asJSON {
		return failJSON(w, path, err)
	}
	return err
}

// failJSON reports an error in JSON on w and ends the command with status 2.
func failJSON(w io.Writer, path string, err error) error {
	if werr := writeJSON(w, findingsJSON{kits.Plain(path), false, fileFindings(err)}); werr != nil {
		return werr
	}
	return errShown
}
