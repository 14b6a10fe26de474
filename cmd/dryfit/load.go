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

// load reads and checks a kit, with its meshes if it names any.
func load(ctx context.Context, path string) (*plan.Project, error) {
	kit, err := kits.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if kit.Meshes == "" {
		return plan.Check(kit)
	}
	rep, _, err := measured(ctx, kit, project.Options{})
	return rep, err
}

// measured checks a kit with its meshes, and shows progress.
func measured(ctx context.Context, kit *kits.Kit, o project.Options) (*plan.Project, *project.Survey, error) {
	p := newProgress(os.Stderr)
	defer p.done()
	o.Progress, o.Warn = p.show, p.warn
	roomy()
	return project.Check(ctx, kit, o)
}

// roomy lifts the limit under which small runs keep their memory: meshes need more.
func roomy() {
	debug.SetGCPercent(100)
	debug.SetMemoryLimit(math.MaxInt64)
}

// loadFor is load; with asJSON it reports an error in JSON on w.
func loadFor(ctx context.Context, w io.Writer, path string, asJSON bool) (*plan.Project, error) {
	rep, err := load(ctx, path)
	if err != nil && asJSON {
		return nil, failJSON(w, path, err)
	}
	return rep, err
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

// failJSON reports an error in JSON on w and ends the command with status 2.
func failJSON(w io.Writer, path string, err error) error {
	if werr := writeJSON(w, findingsJSON{kits.Plain(path), false, fileFindings(err)}); werr != nil {
		return werr
	}
	return errShown
}
