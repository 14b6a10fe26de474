package main

import (
	"io"
	"strings"

	"dryfit/plan"
	"dryfit/plan/compare"
)

// verdicts are the headings for prints, in the sequence in which they are shown.
var verdicts = []struct {
	verdict compare.Verdict
	says    string
}{
	{compare.Redo, "print again"},
	{compare.New, "print, new"},
	{compare.Alike, "look at: it cannot be told whether they are the same"},
	{compare.Unneeded, "no longer needed"},
	{compare.Moved, "stay good, though they stand elsewhere"},
	{compare.Untold, "stay good by what the file says; there is no mesh to tell"},
	{compare.Good, "stay good"},
}

// prints says what becomes of prints. Those that stay good are counted, unless all are
// to be shown.
func (p *comparePrinter) prints(list []compare.Print) {
	if len(list) == 0 {
		return
	}
	p.line("")
	p.line("%s", p.bold("Prints"))
	for _, v := range verdicts {
		var some []compare.Print
		for _, one := range list {
			if one.Verdict == v.verdict {
				some = append(some, one)
			}
		}
		if len(some) == 0 {
			continue
		}
		p.line("  %d %s", len(some), v.says)
		if quiet := v.verdict == compare.Good || v.verdict == compare.Untold; quiet && !p.all {
			continue
		}
		p.reasons(some)
	}
}

// reasons lists prints, those with the same reason together.
func (p *comparePrinter) reasons(list []compare.Print) {
	var whys []string
	of := map[string][]string{}
	for _, one := range list {
		if of[one.Why] == nil {
			whys = append(whys, one.Why)
		}
		of[one.Why] = append(of[one.Why], one.Piece)
	}
	for i, why := range whys {
		if i == someChanges && !p.all {
			p.line("      and %d more; --all shows them", len(whys)-i)
			break
		}
		text := strings.Join(of[why], ", ")
		if why != "" {
			text += ": " + why
		}
		p.wrap("      ", "        ", text)
	}
}

// compareReport is the JSON of compare.
type compareReport struct {
	Old      sideJSON      `json:"old"`
	New      sideJSON      `json:"new"`
	OK       bool          `json:"ok"`
	Same     bool          `json:"same"`
	Renamed  []renamedJSON `json:"renamed"`
	Changes  []changeJSON  `json:"changes"`
	Steps    stepsJSON     `json:"steps"`
	Prints   []verdictJSON `json:"prints"`
	Findings struct {
		New  []plan.Finding `json:"new"`
		Gone []plan.Finding `json:"gone"`
	} `json:"findings"`
}

type sideJSON struct {
	Kit    string `json:"kit"`
	OK     bool   `json:"ok"`
	Pieces int    `json:"pieces"`
	Steps  int    `json:"steps"`
}

type renamedJSON struct {
	Old string `json:"old"`
	New string `json:"new"`
	By  string `json:"by"`
}

type changeJSON struct {
	Kind   string          `json:"kind"`
	Name   string          `json:"name"`
	What   compare.What    `json:"what"`
	Fields []compare.Field `json:"fields"`
}

type stepsJSON struct {
	Known bool        `json:"known"`
	Added []movedJSON `json:"added"`
	Gone  []movedJSON `json:"gone"`
	Moved []movedJSON `json:"moved"`
}

type movedJSON struct {
	Text string `json:"text"`
	Old  int    `json:"old"`
	New  int    `json:"new"`
}

type verdictJSON struct {
	Piece   string          `json:"piece"`
	Part    string          `json:"part"`
	Verdict compare.Verdict `json:"verdict"`
	Why     string          `json:"why"`
	By      *[3]float64     `json:"by,omitempty"`
}

func compareJSON(w io.Writer, sides [2]*plan.Project, c *compare.Comparison) error {
	side := func(rep *plan.Project) sideJSON {
		return sideJSON{rep.Kit.Name, rep.OK(), len(rep.Kit.Pieces), len(rep.Constraints.Steps)}
	}
	moves := func(list []compare.Step) []movedJSON {
		out := []movedJSON{}
		for _, s := range list {
			out = append(out, movedJSON(s))
		}
		return out
	}
	out := compareReport{
		Old: side(sides[0]), New: side(sides[1]), OK: c.OK(), Same: c.Same(),
		Renamed: []renamedJSON{}, Changes: []changeJSON{}, Prints: []verdictJSON{},
		Steps: stepsJSON{c.Steps.Known, moves(c.Steps.Added), moves(c.Steps.Gone), moves(c.Steps.Moved)},
	}
	for _, r := range c.Renamed {
		out.Renamed = append(out.Renamed, renamedJSON(r))
	}
	for _, ch := range c.Changes {
		out.Changes = append(out.Changes, changeJSON{ch.Kind, ch.Name, ch.What, append([]compare.Field{}, ch.Fields...)})
	}
	for _, p := range c.Prints {
		out.Prints = append(out.Prints, verdictJSON{p.Piece, p.Part, p.Verdict, p.Why, (*[3]float64)(p.By)})
	}
	out.Findings.New, out.Findings.Gone = complete(c.Findings.New), complete(c.Findings.Gone)
	return writeJSON(w, out)
}
