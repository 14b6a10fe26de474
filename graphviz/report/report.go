// Package report turns what is known of a kit into documents, sheets and data,
// with one file for each subject. It words results: package plan computes them,
// and package document lays them out.
//
// The data are what the commands print as JSON. Lists in them are never null.
// Lengths are in mm and step numbers are those of the proven sequence, unless
// stated otherwise.
package report

import (
	"fmt"
	"math"

	"dryfit/graphviz/document"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/plan"
)

// Report is what a command reports on a kit.
type Report struct {
	document.Report
	OK bool // neither the kit nor the subject has a fault
	// Beside are findings that the document does not show.
	Beside []plan.Finding
	// Within are findings that the document shows; a sheet has no room for them.
	Within []plan.Finding
}

// language is the language of reports.
var language = words.English

// newReport is a report of a kit with blocks as its document.
func newReport(k *kits.Kit, ok bool, blocks []document.Block, sheet [][]string, data any) *Report {
	return &Report{OK: ok, Report: document.Report{Document: newDocument(k.Name, blocks), Sheet: sheet, Data: data}}
}

// newDocument is a document of one chapter.
func newDocument(title string, blocks []document.Block) *document.Document {
	return &document.Document{
		Language: language.Tag, Title: title, Footer: title,
		Fixed:    document.Words(language),
		Chapters: []document.Chapter{{ID: "report", Blocks: blocks}},
	}
}

// blocks gathers the blocks of a document.
type blocks []document.Block

func (b *blocks) add(list ...document.Block) { *b = append(*b, list...) }

func (b *blocks) text(format string, args ...any) { b.add(document.Text(fmt.Sprintf(format, args...))) }

func (b *blocks) heading(format string, args ...any) {
	b.add(document.Heading(fmt.Sprintf(format, args...)))
}

// bullets adds a list, unless it is empty.
func (b *blocks) bullets(list []string) {
	if len(list) > 0 {
		b.add(document.Bullets(list))
	}
}

// hundredth rounds a figure to the precision that it has.
func hundredth(v float64) float64 { return math.Round(v*100)/100 + 0 }

func hundredths(v [3]float64) [3]float64 {
	return [3]float64{hundredth(v[0]), hundredth(v[1]), hundredth(v[2])}
}

// figure writes a number that is rounded to hundredths.
func figure(v float64) string { return fmt.Sprintf("%g", hundredth(v)) }

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// subject is a report on one subject of a kit with findings of its own, which
// come after the other blocks. data makes its data from their head.
func subject(p *plan.Project, found []plan.Finding, list []document.Block, sheet [][]string, data func(Head) any) *Report {
	ok := p.OK() && plan.CountOf(found, plan.Fault) == 0
	r := newReport(p.Kit, ok, append(list, entries(found, true)...), sheet, data(Head{p.Kit.Name, ok, complete(found)}))
	r.Within = found
	return r
}
