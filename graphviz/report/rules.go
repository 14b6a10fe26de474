package report

import (
	"dryfit/graphviz/booklet"
	"dryfit/graphviz/document"
	"dryfit/plan"
)

// RulesData is how well a booklet follows the rules of good instructions.
type RulesData struct {
	Kit   string            `json:"kit"`   // name of the kit
	OK    bool              `json:"ok"`    // the kit has no fault, and no rule that matters fails
	Rules []booklet.Verdict `json:"rules"` // in the order of the list
}

// Rules reports how well a booklet follows the rules of good instructions.
func Rules(p *plan.Project, list []booklet.Verdict) *Report {
	ok := p.OK()
	for _, v := range list {
		ok = ok && (v.Result != booklet.Fails || v.Level != booklet.Error)
	}
	var b blocks
	for _, part := range []struct {
		result  booklet.Result
		heading string
	}{{booklet.Fails, "Fail"}, {booklet.Judge, "For a person to judge"}, {booklet.Holds, "Hold"}} {
		entries := ruleEntries(list, part.result)
		if len(entries) > 0 {
			b.heading("%s", part.heading)
			b.add(entries...)
		}
	}
	return newReport(p.Kit, ok, b, nil, RulesData{p.Kit.Name, ok, list})
}

func ruleEntries(list []booklet.Verdict, which booklet.Result) []document.Block {
	var out []document.Block
	for _, v := range list {
		if v.Result == which {
			out = append(out, document.Entry{Texts: []string{v.Rule + " [" + string(v.Level) + "]"}, Lists: []document.List{{Items: v.Found}}})
		}
	}
	return out
}

// Booklet is the list of files written for a booklet.
type Booklet struct {
	Kit      string   `json:"kit"`      // name of the kit
	OK       bool     `json:"ok"`       // the kit has no fault
	Files    []string `json:"files"`    // that were written
	Steps    int      `json:"steps"`    // in the booklet
	Pictures int      `json:"pictures"` // of steps
}
