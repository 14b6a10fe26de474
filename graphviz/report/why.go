package report

import (
	"fmt"

	"dryfit/graphviz/document"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// WhyData is what is known of the steps in question.
type WhyData struct {
	Kit string        `json:"kit"` // name of the kit
	OK  bool          `json:"ok"`  // the kit has no fault
	Why []explain.Why `json:"why"` // one for each step
}

// Why reports when pieces go in, and why.
func Why(p *plan.Project, list []explain.Why) *Report {
	var b blocks
	for _, y := range list {
		b.add(whyEntry(p, y))
		b.add(entries(y.Findings, true)...)
	}
	return newReport(p.Kit, p.OK(), b, nil, WhyData{p.Kit.Name, p.OK(), list})
}

func whyEntry(p *plan.Project, y explain.Why) document.Entry {
	e := document.Entry{Title: y.Name}
	switch {
	case y.Number > 0:
		earliest, latest := fmt.Sprint(y.Earliest), fmt.Sprint(y.Latest)
		if y.LatestBound {
			latest += " at most"
		}
		if y.EarliestBound {
			earliest += " at least"
		}
		e.Texts = []string{fmt.Sprintf("step %d of %d: %s", y.Number, len(p.Constraints.Steps), y.Text),
			fmt.Sprintf("it could be step %s at the earliest, %s at the latest", earliest, latest)}
	case y.Text != "":
		e.Texts = []string{y.Text + "; the kit has no proven order, so it has no number"}
	default:
		e.Texts = []string{y.Base}
	}
	for _, l := range []document.List{
		{Title: "comes after", Items: reasons(y.After)},
		{Title: "what waits for it", Items: reasons(y.Before)},
		{Title: "ways in", Items: y.Ways},
		{Items: y.LastCall},
	} {
		if len(l.Items) > 0 {
			e.Lists = append(e.Lists, l)
		}
	}
	return e
}
