package release

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/graphviz/safety"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/release"
	"dryfit/plan/totals"
)

// readme is what a builder reads first: what is where, what to do first, what to mind.
func (k *Pack) readme() *document.Document {
	kit := k.p.Kit
	var b []document.Block
	title := kits.Plain(k.title())
	if kit.Date != "" {
		title += ", " + kits.Plain(kit.Date)
	}
	b = append(b, document.Text(title))
	if kit.About != "" {
		b = append(b, document.Text(kit.About))
	}
	b = append(b, document.Heading("What is here"), k.where())
	b = append(b, document.Heading("First"), first(kit))
	b = append(b, document.Heading("How much it takes, estimated"), document.Bullets(k.amounts()))
	if list := k.untested(); len(list) > 0 {
		b = append(b, document.Heading("Not test-printed"),
			document.Text("These parts go out without a good test print of their present shape. Print one of each before you rely on it, and tell the designer what you find."), document.Bullets(list))
	}
	if list := k.withoutFile(); len(list) > 0 {
		b = append(b, document.Heading("Not in the pack"), document.Text("There are no files for these; make them by the lists."), document.Bullets(list))
	}
	b = append(b, document.Heading("Cautions"))
	b = append(b, safety.Blocks(words.English, plan.Hazards(kit), false)...)
	b = append(b, document.Heading("Licence and contact"), document.Text(kit.Licence), document.Text("Questions: "+kit.Contact))
	return &document.Document{Language: words.English.Tag, Title: kit.Name, Fixed: document.Words(words.English), Chapters: []document.Chapter{{ID: "readme", Blocks: b}}}
}

// where says what is in which folder.
func (k *Pack) where() document.Facts {
	form := "3MF"
	if k.o.STL {
		form = "STL"
	}
	list := document.Facts{
		{Name: "booklet", Value: "the building instructions (" + strings.Join(k.languages(), ", ") + "); start here"},
		{Name: "parts", Value: "a file for each part, " + form + " in mm, by sub-build and material; NUMBER name, and xN for N copies. Both of a mirrored pair are there: mirror nothing"},
		{Name: "lists", Value: "parts, hardware, paint and totals, as CSV and PDF"},
		{Name: "coupon", Value: "a small test print of the fits, with a text that says what is on it"},
		{Name: "page", Value: "the model to turn and to build step by step; open page/index.html in a browser"},
		{Name: "kit", Value: "the kit with its assembled meshes, for dryfit: dryfit mark and dryfit next keep track of your build"},
		{Name: "CHANGES.txt", Value: "what is new, and which prints of the last release stay good"},
		{Name: "LICENCE.txt", Value: "what you may do with all this"},
		{Name: sumsName, Value: "checksums of all files, for sha256sum -c"},
	}
	if k.plan != nil {
		plates := document.Fact{Name: "plates", Value: "plates of the designer's printers, as planned and without supports; plates.pdf says what is on them. For other printers take the parts"}
		list = slices.Insert(list, 2, plates)
	}
	return list
}

func (k *Pack) languages() []string {
	var list []string
	for _, tag := range words.Languages() {
		l, _ := words.In(tag) // listed by words itself
		list = append(list, l.Say("language"))
	}
	return list
}

// first is what to do before anything is printed (common practice).
func first(kit *kits.Kit) document.Bullets {
	return document.Bullets{
		"Read the safety messages in the booklet and below.",
		"Check the files: in this folder, sha256sum -c " + sumsName + ".",
		fmt.Sprintf("Print the fit coupon, and compare the clearance that your printer needs with the %.4g mm of the kit.", kit.Clearance),
		"Parts lie as they stand in the model. Turn them for your printer; their print notes are in lists/parts.csv and in the booklet.",
		"Count hardware and prints against the lists before you begin to build.",
	}
}

func (k *Pack) amounts() []string {
	var list []string
	for _, m := range k.sums.Prints {
		text := fmt.Sprintf("%s: %s, %s", m.Of.ID, english.Count(m.Pieces, "piece"), english.AtMost(m.AtMost, fmt.Sprintf("%.0f g", m.Mass)))
		if m.Takes.High > 0 {
			text += ", on the designer's printers up to " + english.Minutes(m.Takes.High)
		}
		list = append(list, text)
	}
	about := "some"
	if s := k.sums.Shipping; s.AtMost && len(s.Unknown) == 0 {
		about = "at most"
	}
	return append(list, fmt.Sprintf("All parts together weigh %s %.0f g with %s for packing; more in lists/totals.pdf.", about, k.sums.Shipping.Mass(), english.Percent(totals.Packing)))
}

// untested lists the numbers of parts without a good test print, by why they count as such.
func (k *Pack) untested() []string {
	numbers := bill.NewNumbers(k.p)
	var list []string
	for _, group := range release.Untested(k.p) {
		var parts []string
		for _, p := range group.Parts {
			parts = append(parts, numbers.Of(p))
		}
		slices.SortFunc(parts, bill.Natural)
		list = append(list, group.Why+": "+strings.Join(parts, ", "))
	}
	return list
}

// withoutFile lists tooling and spare parts that have no mesh.
func (k *Pack) withoutFile() []string {
	var list []string
	for _, p := range k.p.Kit.Parts {
		if p.ToPrint() && k.p.PrintedMesh(p) == nil {
			list = append(list, strings.TrimSpace(p.Label())+" ("+p.Class+")")
		}
	}
	return list
}
