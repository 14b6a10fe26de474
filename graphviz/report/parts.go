package report

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/testprints"
)

// PartsData is the bill of materials. Times are in seconds.
type PartsData struct {
	Kit      string   `json:"kit"`      // name of the kit
	OK       bool     `json:"ok"`       // the kit has no fault
	Revision string   `json:"revision"` // of the kit
	Parts    []Part   `json:"parts"`    // printed, then hardware, then what is never in the model
	Fixings  []Fixing `json:"fixings"`  // glues and other fixings that are used
	Tools    []string `json:"tools"`    // that the kit names
	Cautions []string `json:"cautions"` // for all the work that the kit asks for
}

// Part is a line of the parts list.
type Part struct {
	Part      string   `json:"part"`             // its id
	Number    string   `json:"number"`           // the builder's number for it
	Name      string   `json:"name"`             // in words
	Quantity  int      `json:"quantity"`         // in the model
	Spares    int      `json:"spares"`           // beyond those
	Suggested bool     `json:"spares_suggested"` // the kit states no spares
	Class     string   `json:"class"`            // model, tooling, spare or option
	Material  string   `json:"material"`         // or how the builder gets it
	Build     string   `json:"build"`            // letter of the sub-build in which it is first used
	Steps     []int    `json:"steps"`            // numbers of the steps that bring it to the model
	MirrorOf  string   `json:"mirror_of"`        // id of the mirrored part
	LooksLike []string `json:"looks_like"`       // ids of parts that are easily confused with it
	Fragile   bool     `json:"fragile"`          // as the kit says
	Note      string   `json:"note"`             // of the kit
	Tested    string   `json:"tested"`           // untested, changed since its test print, bad or good; empty if it is not printed
	Prints    []string `json:"print_notes"`      // what its test prints mean for the next
}

// Fixing is what joins are made with.
type Fixing struct {
	Fixing string `json:"fixing"` // its id
	Handle int    `json:"handle"` // seconds until it can be handled
	Cure   int    `json:"cure"`   // seconds until full strength
	Steps  []int  `json:"steps"`  // numbers of the steps that use it
}

// Parts reports what a kit with a proven order consists of.
func Parts(p *plan.Project) *Report {
	l := &partsList{p, bill.NewNumbers(p), sorted(bill.List(p)), testprints.Of(p)}
	return newReport(p.Kit, p.OK(), l.blocks(), l.sheet(), l.data())
}

// partsList is the data of the parts list.
type partsList struct {
	p       *plan.Project
	numbers *bill.Numbers
	items   []bill.Item
	tests   *testprints.Log
}

// sorted puts printed parts first, then hardware, then the rest.
func sorted(items []bill.Item) []bill.Item {
	var list []bill.Item
	for _, which := range []func(*kits.Part) bool{
		func(p *kits.Part) bool { return p.InModel() && p.ToPrint() },
		func(p *kits.Part) bool { return p.InModel() && !p.ToPrint() },
		func(p *kits.Part) bool { return !p.InModel() },
	} {
		for _, i := range items {
			if which(i.Part) {
				list = append(list, i)
			}
		}
	}
	return list
}

func (l *partsList) blocks() []document.Block {
	var b blocks
	b.text("%s", l.summary())
	for rest := l.items; len(rest) > 0; {
		heading := l.heading(rest[0])
		n := 1
		for n < len(rest) && l.heading(rest[n]) == heading {
			n++
		}
		b.heading("%s", heading)
		b.add(l.table(rest[:n]))
		rest = rest[n:]
	}
	if uses := bill.Fixings(l.p); len(uses) > 0 {
		b.heading("Adhesives and fixings")
		b.add(fixingFacts(uses))
	}
	if len(l.p.Kit.Tools) > 0 {
		b.heading("Tools and consumables")
		b.bullets(l.p.Kit.Tools)
	}
	b.text("Spares marked * are a suggestion (one, or a tenth: common practice).")
	b.add(cautionBlocks(l.p.Constraints.Hazards(), true)...)
	return b
}

func (l *partsList) summary() string {
	k := l.p.Kit
	title := k.Name
	if k.Revision != "" {
		title += ", revision " + k.Revision
	}
	if k.Scale != "" {
		title += ", " + k.Scale
	}
	pieces := 0
	for _, i := range l.items {
		if i.Part.InModel() {
			pieces += i.Part.Quantity
		}
	}
	return fmt.Sprintf("%s: %s in the model; %s listed in all.", title, english.Count(pieces, "piece"), english.Count(len(l.items), "part"))
}

// heading is the section of the list that an item belongs to.
func (l *partsList) heading(i bill.Item) string {
	switch {
	case !i.Part.InModel():
		return "Jigs, spares and stock: never in the model"
	case !i.Part.ToPrint():
		return "Hardware: bought, or made by the builder"
	case i.Build == 0:
		return "Printed, main build"
	}
	return "Printed, sub-build " + l.p.Sequence.Builds[i.Build].Letter + ": " + l.p.Sequence.Title(i.Build)
}

func (l *partsList) table(items []bill.Item) document.Table {
	var rows [][]string
	for _, i := range items {
		spares := strconv.Itoa(i.Spares)
		if i.Suggested {
			spares += "*"
		}
		text := i.Part.Name
		if r := l.remarks(i); len(r) > 0 {
			text += "; " + strings.Join(r, "; ")
		}
		rows = append(rows, []string{i.Number, strconv.Itoa(i.Part.Quantity), spares, material(i.Part), english.Ranges(i.Steps), text})
	}
	return document.NewTable([]string{"ref.", "qty", "spares", "material", "step", "name"}, rows...)
}

// material is what a part is made of, or how the builder gets it.
func material(p *kits.Part) string {
	switch {
	case p.Printed != "" && p.Material != nil && p.Material.ID != kits.PlainMaterial(p.Printed):
		return p.Material.ID
	case p.Printed != "":
		return p.Printed
	case p.Bought:
		return "bought"
	case p.Made:
		return "made"
	}
	return "not stated"
}

// remarks are notes on a part.
func (l *partsList) remarks(i bill.Item) []string {
	var list []string
	p := i.Part
	if !p.InModel() || p.Class == "option" {
		list = append(list, p.Class)
	}
	switch {
	case bill.Mirrored(l.p, p):
		list = append(list, "mirror image of "+l.numbers.Of(p.Pair))
	case p.Pair != nil:
		list = append(list, "pair of "+l.numbers.Of(p.Pair)+", but no exact mirror image of it")
	}
	if len(i.LooksLike) > 0 {
		list = append(list, "looks like "+strings.Join(l.numbersOf(i.LooksLike), ", ")+", but is not the same")
	}
	if p.Fragile {
		list = append(list, "fragile")
	}
	if p.Note != "" {
		list = append(list, p.Note)
	}
	return append(list, booklet.PrintNotes(language, l.tests, p)...)
}

// tested is the state of a part that is printed.
func (l *partsList) tested(p *kits.Part) string {
	if !p.ToPrint() {
		return ""
	}
	return string(l.tests.State(p))
}

func (l *partsList) numbersOf(parts []*kits.Part) []string {
	list := make([]string, len(parts))
	for i, p := range parts {
		list[i] = l.numbers.Of(p)
	}
	return list
}

func fixingFacts(uses []bill.Use) document.Facts {
	var list document.Facts
	for _, u := range uses {
		times := "holds at once"
		if u.Fixing.Handle > 0 || u.Fixing.Cure > 0 {
			times = fmt.Sprintf("handle after %s, full strength after %s", english.Span(u.Fixing.Handle), english.Span(u.Fixing.Cure))
		}
		list = append(list, document.Fact{Name: u.Fixing.ID, Value: times + "; " + english.Count(len(u.Steps), "step")})
	}
	return list
}

// letter is the letter of the build in which a part is first used.
func (l *partsList) letter(i bill.Item) string {
	if !i.Part.InModel() || i.Build >= len(l.p.Sequence.Builds) {
		return ""
	}
	return l.p.Sequence.Builds[i.Build].Letter
}

func (l *partsList) sheet() [][]string {
	rows := [][]string{{"reference", "quantity", "spares", "name", "material", "class", "build", "steps", "mirror of", "looks like", "fragile", "note", "part", "revision", "tested", "print notes"}}
	for _, i := range l.items {
		p := i.Part
		mirror := ""
		if p.Pair != nil {
			mirror = l.numbers.Of(p.Pair)
		}
		var steps []string
		for _, n := range i.Steps {
			steps = append(steps, strconv.Itoa(n))
		}
		rows = append(rows, []string{i.Number, strconv.Itoa(p.Quantity), strconv.Itoa(i.Spares), p.Name, material(p), p.Class, l.letter(i), strings.Join(steps, ", "),
			mirror, strings.Join(l.numbersOf(i.LooksLike), " "), yes(p.Fragile), p.Note, p.ID, l.p.Kit.Revision, l.tested(p),
			strings.Join(booklet.PrintNotes(language, l.tests, p), "; ")})
	}
	return rows
}

func (l *partsList) data() PartsData {
	k := l.p.Kit
	out := PartsData{Kit: k.Name, OK: l.p.OK(), Revision: k.Revision, Parts: []Part{}, Fixings: []Fixing{}, Tools: append([]string{}, k.Tools...), Cautions: cautions(l.p.Constraints.Hazards())}
	for _, i := range l.items {
		p := i.Part
		j := Part{Part: p.ID, Number: i.Number, Name: p.Name, Quantity: p.Quantity, Spares: i.Spares, Suggested: i.Suggested, Class: p.Class,
			Material: material(p), Build: l.letter(i), Steps: append([]int{}, i.Steps...), LooksLike: []string{}, Fragile: p.Fragile, Note: p.Note,
			Tested: l.tested(p), Prints: append([]string{}, booklet.PrintNotes(language, l.tests, p)...)}
		if p.Pair != nil {
			j.MirrorOf = p.Pair.ID
		}
		for _, q := range i.LooksLike {
			j.LooksLike = append(j.LooksLike, q.ID)
		}
		out.Parts = append(out.Parts, j)
	}
	for _, u := range bill.Fixings(l.p) {
		out.Fixings = append(out.Fixings, Fixing{u.Fixing.ID, seconds(u.Fixing.Handle), seconds(u.Fixing.Cure), append([]int{}, u.Steps...)})
	}
	return out
}
