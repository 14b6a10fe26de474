package report

import (
	"context"
	"fmt"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/picture"
	"dryfit/graphviz/plates"
	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
	"dryfit/plan/testprints"
)

// Printing is a printing plan with what it was made from.
type Printing struct {
	*printing.Plan
	p        *plan.Project
	ready    []printing.Ready
	findings []plan.Finding
	tests    *testprints.Log
	printed  int // pieces that are printed already
}

// PlanPrinting plans the printing of a kit that names printers, for an aim. tell, if
// not nil, is called with the progress, 0 to 1.
func PlanPrinting(ctx context.Context, p *plan.Project, aim printing.Aim, tell func(share float64)) (*Printing, error) {
	printed := 0
	made, missing, err := project.Printing(ctx, p, func(r *printing.Request) { r.Progress, r.Aim, printed = tell, aim, r.Printed }, nil)
	if err != nil {
		return nil, err
	}
	out := &Printing{Plan: made, printed: printed, p: p, ready: made.Ready(p), findings: made.Findings(p.Kit.Printers, missing), tests: testprints.Of(p)}
	if p.Sequence == nil {
		out.findings = append(out.findings, plan.NewFinding(plan.Printing, plan.Note, "without a proven order, pieces are printed in the order that the file suggests"))
	}
	return out, nil
}

// Report reports the plan; parts adds details of each part: how it lies, its
// layers.
func (p *Printing) Report(parts bool) *Report {
	ok := p.p.OK() && plan.CountOf(p.findings, plan.Fault) == 0
	r := newReport(p.p.Kit, ok, p.blocks(parts), p.sheet(), p.data(ok))
	r.Beside = p.findings
	return r
}

// Sheet draws all plates on one sheet.
func (p *Printing) Sheet() []byte { return drawn(plates.Sheet(p.Plates, p.p.Kit.Name), p.p.Kit.Name) }

// Drawing draws one plate.
func (p *Printing) Drawing(plate *printing.Plate) []byte {
	title := p.p.Kit.Name + "; " + plateSummary(plate)
	return drawn(plates.Plate(plate, title), title)
}

// drawn is a picture as a file of its own.
func drawn(x *picture.Picture, title string) []byte { return svg.File(x.SVG(title)) }

// Printed are the names of the plates that the progress file calls printed.
func (p *Printing) Printed() map[string]bool {
	names := map[string]bool{}
	if p.p.Progress == nil {
		return names
	}
	for _, kept := range p.p.Progress.Plates {
		if kept.Printed {
			names[plates.Name(&printing.Plate{Number: kept.Number})] = true
		}
	}
	return names
}

// plateSummary is what a plate holds, in a few words.
func plateSummary(p *printing.Plate) string {
	return fmt.Sprintf("%s, %s, %s", english.Count(len(p.Pieces), "piece"), between(p.Takes), grams(p.Mass()))
}

// onPlate is the pieces of a part on one plate.
type onPlate struct {
	part   *printing.Part
	pieces []printing.Placed
}

// partsOn lists the parts on a plate in the order in which the build needs them.
func partsOn(plate *printing.Plate) []*onPlate {
	of := map[*printing.Part]*onPlate{}
	var list []*onPlate
	for _, x := range plate.InNeed() {
		if of[x.Part] == nil {
			of[x.Part] = &onPlate{part: x.Part}
			list = append(list, of[x.Part])
		}
		of[x.Part].pieces = append(of[x.Part].pieces, x)
	}
	return list
}

// processes lists the processes in use.
func (p *Printing) processes() []string {
	var list []string
	for _, process := range []string{kits.Resin, kits.Filament} {
		for _, plate := range p.Plates {
			if plate.Printer.Process == process {
				list = append(list, process)
				break
			}
		}
	}
	return list
}

// grams words a mass; most says that it is an upper bound.
func grams(g float64, most bool) string {
	text := fmt.Sprintf("%.0f g", g)
	switch {
	case g < 0.05:
		text = "under 0.1 g"
	case g < 10:
		text = fmt.Sprintf("%.1f g", g)
	}
	return english.AtMost(most, text)
}

// after words when something is done.
func after(b printing.Band) string {
	if b.Low == 0 && b.High > 0 {
		return "after " + english.AtMost(true, english.Minutes(b.High))
	}
	return "after " + between(b)
}

// between words a range of times, to the minute.
func between(b printing.Band) string {
	low, high := english.Minutes(b.Low), english.Minutes(b.High)
	switch {
	case low == high:
		return high
	case low == english.Minutes(0):
		return "up to " + high
	}
	return low + " to " + high
}

// notes are what the test prints of a part mean for the next.
func (p *Printing) notes(part *kits.Part) []string {
	return booklet.PrintNotes(language, p.tests, part)
}
