package report

import (
	"fmt"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/compare"
)

// Compare reports what a new revision of a kit changes; all shows long lists in
// full.
func Compare(older, newer *plan.Project, c *compare.Comparison, all bool) *Report {
	d := &difference{c: c, cut: cut{someChanges, all}}
	d.text("old: %s", Verdict(older))
	d.text("new: %s", Verdict(newer))
	if c.Same() {
		d.heading("Nothing differs")
	}
	d.prints(c.Prints)
	d.renamed()
	for _, s := range changeSections {
		d.changes(s.kind, s.title)
	}
	d.steps(c.Steps)
	d.findings("New findings", c.Findings.New)
	d.findings("Findings that are gone", c.Findings.Gone)
	if len(c.Findings.New) > 0 {
		d.text("See dryfit check for more on the new findings.")
	}
	if !c.Same() {
		d.see(newer.Constraints.Hazards())
	}
	return newReport(newer.Kit, c.OK(), d.blocks, nil, compareData(older, newer, c))
}

// someChanges is how many entries of each kind are shown without all.
const someChanges = 30

// changeSections are the headings for changes of the kit file.
var changeSections = []struct{ kind, title string }{
	{"kit", "The kit"}, {"fixing", "Fixings"}, {"part", "Parts"}, {"join", "Joins"}, {"space", "Spaces"},
	{"wire", "Wires"}, {"task", "Tasks"}, {"service", "Service"},
	{"balance", "Balance"}, {"lights", "Lights"}, {"magnets", "Magnets"}, {"material", "Materials"}, {"printer", "Printers"},
}

// difference words what differs.
type difference struct {
	blocks
	cut
	c *compare.Comparison
}

// section adds a heading and its lines, if there are any.
func (d *difference) section(title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	d.heading("%s", title)
	shown := d.shown(len(lines))
	d.bullets(lines[:shown])
	if shown < len(lines) {
		d.text("%s", more(len(lines)-shown))
	}
}

func (d *difference) renamed() {
	var lines []string
	for _, r := range d.c.Renamed {
		lines = append(lines, fmt.Sprintf("%s is now %s (has the same %s)", r.Old, r.New, r.By))
	}
	d.section("Renamed", lines)
}

func (d *difference) changes(kind, title string) {
	var lines []string
	for _, ch := range d.c.Changes {
		if ch.Kind == kind {
			lines = append(lines, changeLines(ch)...)
		}
	}
	d.section(title, lines)
}

func changeLines(ch compare.Change) []string {
	switch ch.What {
	case compare.Added:
		return []string{kits.Plain(ch.Name) + " is new"}
	case compare.Gone:
		return []string{kits.Plain(ch.Name) + " is gone"}
	}
	name := ""
	if ch.Name != "" {
		name = kits.Plain(ch.Name) + ": "
	}
	var lines []string
	for _, f := range ch.Fields {
		text := fmt.Sprintf("%s was %s and is %s", f.Name, kits.Plain(f.Old), kits.Plain(f.New))
		switch {
		case f.Old == "":
			text = fmt.Sprintf("%s is now %s; it was not given", f.Name, kits.Plain(f.New))
		case f.New == "":
			text = fmt.Sprintf("%s is no longer given; it was %s", f.Name, kits.Plain(f.Old))
		}
		lines = append(lines, name+text)
	}
	return lines
}

func (d *difference) steps(s compare.Steps) {
	if !s.Known {
		d.text("The steps are not compared: one of the two has no proven order.")
		return
	}
	var lines []string
	for _, x := range s.Added {
		lines = append(lines, fmt.Sprintf("%d is new: %s", x.New, x.Text))
	}
	for _, x := range s.Gone {
		lines = append(lines, fmt.Sprintf("%d is gone: %s", x.Old, x.Text))
	}
	for _, x := range s.Moved {
		lines = append(lines, fmt.Sprintf("%d moved to %d: %s", x.Old, x.New, x.Text))
	}
	d.section("Steps", lines)
}

func (d *difference) findings(heading string, list []plan.Finding) {
	var lines []string
	for _, f := range list {
		lines = append(lines, title(f)+": "+f.Text)
	}
	if lines != nil {
		d.heading("%s", heading)
		d.bullets(lines)
	}
}

// verdicts are the headings for prints, in display order.
var verdicts = []struct {
	verdict compare.Verdict
	says    string
}{
	{compare.Redo, "print again"},
	{compare.New, "print, new"},
	{compare.Alike, "to compare by eye: they may not be the same"},
	{compare.Unneeded, "no longer needed"},
	{compare.Moved, "stay good, though they moved"},
	{compare.Untold, "stay good according to the file; there is no mesh to compare"},
	{compare.Good, "stay good"},
}

// prints says which prints can still be used. Without all, those that stay good
// are only counted.
func (d *difference) prints(list []compare.Print) {
	if len(list) == 0 {
		return
	}
	d.heading("Prints")
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
		e := document.Entry{Texts: []string{fmt.Sprintf("%d %s", len(some), v.says)}}
		if quiet := v.verdict == compare.Good || v.verdict == compare.Untold; !quiet || d.all {
			e.Lists = []document.List{{Items: d.byReason(some)}}
		}
		d.add(e)
	}
}

// byReason lists prints, grouped by reason.
func (d *difference) byReason(list []compare.Print) []string {
	var whys, lines []string
	of := map[string][]string{}
	for _, one := range list {
		if of[one.Why] == nil {
			whys = append(whys, one.Why)
		}
		of[one.Why] = append(of[one.Why], one.Piece)
	}
	shown := d.shown(len(whys))
	for _, why := range whys[:shown] {
		text := strings.Join(of[why], ", ")
		if why != "" {
			text += ": " + why
		}
		lines = append(lines, text)
	}
	if shown < len(whys) {
		lines = append(lines, more(len(whys)-shown))
	}
	return lines
}
