package main

import (
	"io"

	"dryfit/graphviz/booklet"
	"dryfit/plan"
)

// rulesJSON is what booklet --check prints with --json.
type rulesJSON struct {
	Kit   string            `json:"kit"`
	OK    bool              `json:"ok"` // no rule fails
	Rules []booklet.Verdict `json:"rules"`
}

// printRules prints how a booklet stands up to the rules; a rule that does not hold
// and matters ends the command with status 1.
func printRules(w io.Writer, rep *plan.Project, made *booklet.Made, asJSON bool) error {
	list := made.Check()
	ok := true
	for _, v := range list {
		ok = ok && (v.Result != booklet.Fails || v.Level != booklet.Error)
	}
	var err error
	if asJSON {
		err = writeJSON(w, rulesJSON{rep.Kit.Name, ok, list})
	} else {
		err = rulesText(w, list)
	}
	if err == nil && !ok {
		err = errFindings
	}
	return err
}

func rulesText(w io.Writer, list []booklet.Verdict) error {
	p := &printer{w: w}
	s := styleFor(w)
	for _, part := range []struct {
		result  booklet.Result
		heading string
	}{{booklet.Fails, "Do not hold"}, {booklet.Judge, "For a person to judge"}, {booklet.Holds, "Hold"}} {
		printed := false
		for _, v := range list {
			if v.Result != part.result {
				continue
			}
			if !printed {
				p.line("%s", s.bold(part.heading))
				printed = true
			}
			p.wrap("  - ", "    ", v.Rule+" ["+string(v.Level)+"]")
			for _, f := range v.Found {
				p.wrap("      ", "      ", f)
			}
		}
		if printed {
			p.line("")
		}
	}
	return p.err
}
