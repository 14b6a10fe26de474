package report

import (
	"errors"
	"fmt"
	"slices"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/plain"
	"dryfit/plan"
)

// Head is everything that check prints, and the start of most other reports.
type Head struct {
	Kit      string         `json:"kit"`      // name of the kit; its path if it cannot be read
	OK       bool           `json:"ok"`       // neither the kit nor the subject has a fault
	Findings []plan.Finding `json:"findings"` // faults first
}

// CheckData is what check prints as JSON.
type CheckData struct {
	Head
	LastCalls []StepCalls `json:"last_calls"` // none without a proven order
}

// StepCalls are the last calls of a step.
type StepCalls struct {
	Number   int      `json:"number"`    // of the step in the proven order
	Text     string   `json:"text"`      // what is done
	LastCall []string `json:"last_call"` // what is out of reach for good afterwards
}

// Check reports what was found in a kit, and whether it can be built.
func Check(p *plan.Project) *Report {
	data := CheckData{Head{p.Kit.Name, p.OK(), complete(p.Findings)}, lastCalls(p)}
	list := append(entries(p.Findings, true), document.Text(Verdict(p)))
	if len(data.LastCalls) > 0 {
		list = append(list, document.Text(lastChances(data.LastCalls)))
	}
	return newReport(p.Kit, p.OK(), list, nil, data)
}

// lastCalls lists the steps with last calls, in their order.
func lastCalls(p *plan.Project) []StepCalls {
	list := []StepCalls{}
	q := p.Sequence
	if q == nil {
		return list
	}
	for _, v := range q.Order {
		if texts := callTexts(q, v); len(texts) > 0 {
			list = append(list, StepCalls{q.Place[v], p.Constraints.Does(v), texts})
		}
	}
	return list
}

// callTexts words the last calls of a step; never null.
func callTexts(q *plan.Sequence, v int) []string {
	texts := []string{}
	for _, r := range q.Reminders(v) {
		texts = append(texts, r.Text)
	}
	return texts
}

// lastChances says at which steps there are last calls.
func lastChances(list []StepCalls) string {
	numbers := make([]int, len(list))
	for i, s := range list {
		numbers[i] = s.Number
	}
	return fmt.Sprintf("Last calls at %s: see the order.", english.Steps(numbers))
}

// NoOrder reports that a kit has no proven order. It has no document: that of
// [Check] takes its place.
func NoOrder(p *plan.Project) *Report {
	return &Report{Report: document.Report{Data: Head{p.Kit.Name, false, complete(p.Findings)}}}
}

// Findings is a document of findings. tried says that repairs were tried.
func Findings(list []plan.Finding, tried bool) *document.Document {
	return newDocument("Findings", entries(list, tried))
}

// Failed is the data of a command that could not do its work: the faults of a file, or
// each error there is.
func Failed(path string, err error) any {
	h := Head{Kit: kits.Plain(path), Findings: []plan.Finding{}}
	var faults kits.Faults
	if !errors.As(err, &faults) {
		for _, one := range single(err) {
			h.Findings = append(h.Findings, fileFinding(plain.Lines(one.Error())))
		}
	}
	for _, f := range faults {
		h.Findings = append(h.Findings, fileFinding(f.Text, plan.Reason{Text: f.Text, At: f.Pos.String()}))
	}
	return h
}

// single lists the errors that were joined to one.
func single(err error) []error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}

func fileFinding(text string, because ...plan.Reason) plan.Finding {
	f := plan.NewFinding("file", plan.Fault, text)
	f.Because = append(f.Because, because...)
	return f
}

// complete replaces null lists by empty ones.
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

// Verdict says in one line what was proven of a kit.
func Verdict(p *plan.Project) string {
	result := "Every piece can reach its seat" + basis(p)
	if n := p.Count(plan.Fault); n > 0 {
		result = english.Count(n, "fault") + " to fix"
	}
	return fmt.Sprintf("%s: %s in %s. %s%s.", p.Kit.Name, english.Count(len(p.Kit.Pieces), "piece"),
		english.Count(len(p.Constraints.Steps), "step"), result, lesser(p.Findings))
}

// basis says what the promise rests on where that is not the meshes of all pieces.
func basis(p *plan.Project) string {
	g := p.Constraints.Geometry
	if g == nil {
		if len(p.Kit.Spaces) == 0 {
			return " by its joins alone; the kit has no meshes, and names no spaces"
		}
		return " by the joins and spaces of the kit; it has no meshes"
	}
	unmeasured := 0
	for _, known := range g.Measured {
		if !known {
			unmeasured++
		}
	}
	if unmeasured == 0 {
		return ""
	}
	return fmt.Sprintf("; %d without meshes by the joins and spaces of the kit", unmeasured)
}

// lesser counts what is not a fault: ", 2 cautions, 1 note".
func lesser(list []plan.Finding) string {
	text := ""
	for _, g := range []plan.Grade{plan.Caution, plan.Note} {
		if n := plan.CountOf(list, g); n > 0 {
			text += ", " + english.Count(n, string(g))
		}
	}
	return text
}

// without lists the findings that are not faults.
func without(list []plan.Finding) []plan.Finding {
	var rest []plan.Finding
	for _, f := range list {
		if f.Grade != plan.Fault {
			rest = append(rest, f)
		}
	}
	return rest
}

// entries words findings with their reasons and repairs. tried says that repairs
// were tried.
func entries(list []plan.Finding, tried bool) []document.Block {
	var out []document.Block
	for _, f := range list {
		e := document.Entry{Title: title(f), Texts: []string{f.Text + "."}}
		if len(f.Because) > 0 {
			e.Lists = append(e.Lists, document.List{Title: "because", Numbered: true, Items: reasons(f.Because)})
		}
		switch {
		case len(f.Repairs) > 0:
			e.Lists = append(e.Lists, document.List{Title: fixes(f), Items: repairs(f.Repairs)})
		case f.Grade == plan.Fault && tried && !saysEnough[f.Kind]:
			e.Lists = append(e.Lists, document.List{Title: "no single change that was tried fixes it"})
		}
		out = append(out, e)
	}
	return out
}

func title(f plan.Finding) string { return fmt.Sprintf("%s, %s", f.Grade, f.Kind) }

// reasons are texts with the positions where they are stated.
func reasons(list []plan.Reason) []string {
	out := make([]string, len(list))
	for i, r := range list {
		out[i] = r.Text
		if r.At != "" {
			out[i] += "  (" + r.At + ")"
		}
	}
	return out
}

func repairs(list []plan.Repair) []string {
	out := make([]string, len(list))
	for i, r := range list {
		out[i] = r.Text
	}
	return out
}

// fixes is the title of a finding's repairs: it promises a fix only if all of
// them were tried.
func fixes(f plan.Finding) string {
	if slices.ContainsFunc(f.Repairs, func(r plan.Repair) bool { return !r.Tried }) {
		return "what to do"
	}
	return "any one of these fixes it"
}

// saysEnough are the kinds of faults for which no repairs are tried: the text
// says what to fix.
var saysEnough = map[string]bool{"file": true, plan.Meshes: true, plan.Clashes: true, plan.Rehearsal: true, plan.Limit: true}
