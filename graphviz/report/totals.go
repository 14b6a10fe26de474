package report

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/totals"
)

// totalled is what a kit takes, with what it was worked out from.
type totalled struct {
	p    *plan.Project
	made *printing.Plan
	*totals.Totals
}

// Totals reports what a kit takes, as it was summed up from a printing plan, which is nil
// for a kit without printers.
func Totals(p *plan.Project, made *printing.Plan, sums *totals.Totals) *Report {
	out := &totalled{p, made, sums}
	return newReport(p.Kit, p.OK(), out.blocks(), out.sheet(), out.data())
}

func (t *totalled) blocks() []document.Block {
	var b blocks
	b.heading("To print with")
	b.add(document.NewTable([]string{"material", "pieces", "parts cm3", "supports cm3", "to have g", "packages", "cost", "printers run"}, t.printRows()...))
	if len(t.Unknown) > 0 {
		b.text("Not counted, since their size or their material is not known: %s.", english.Few(kits.PartIDs(t.Unknown), maxTotalNames))
	}
	for _, c := range t.costs() {
		b.text("%s", c)
	}
	if len(t.Paints) > 0 {
		b.heading("Paint")
		b.add(document.NewTable([]string{"colour", "parts", "area", "colour ml", "primer ml"}, t.paintRows()...))
	}
	if len(t.Glues) > 0 {
		b.heading("Adhesives")
		b.add(document.NewTable([]string{"adhesive", "joins", "of those measured", "glued cm2", "ml"}, t.glueRows()...))
	}
	b.heading("To send")
	b.text("%s", t.shipping())
	b.heading("What the figures assume")
	b.bullets(t.assumes())
	b.add(cautionBlocks(plan.Hazards(t.p.Kit), false)...)
	return b
}

func (t *totalled) printRows() [][]string {
	var rows [][]string
	for _, m := range t.Prints {
		packages, cost, takes := "not stated", "not stated", "no printer"
		if m.Packages > 0 {
			packages = fmt.Sprintf("%d of %g g", m.Packages, m.Of.Package)
		}
		if m.Cost > 0 {
			cost = fmt.Sprintf("%.2f %s", m.Cost, m.Of.Price.Currency)
		}
		if m.Takes.High > 0 {
			takes = between(m.Takes)
		}
		rows = append(rows, []string{m.Of.ID, strconv.Itoa(m.Pieces), english.AtMost(m.AtMost, tenths(m.Volume)), tenths(m.Supports), english.AtMost(m.AtMost, whole(m.Mass)), packages, cost, takes})
	}
	return rows
}

// costs are sentences on what the materials cost.
func (t *totalled) costs() []string {
	var list []string
	sums, unpriced := t.Costs()
	for _, c := range sums {
		list = append(list, fmt.Sprintf("Whole packages cost %.2f %s; what is used up of them is worth %.2f %s.", c.Buy, c.Currency, c.Used, c.Currency))
	}
	if len(unpriced) > 0 {
		var ids []string
		for _, m := range unpriced {
			ids = append(ids, m.ID)
		}
		list = append(list, "No price is stated for "+english.And(ids, len(ids))+"; add package and price to the material.")
	}
	return list
}

func (t *totalled) paintRows() [][]string {
	var rows [][]string
	for _, x := range t.Paints {
		rows = append(rows, []string{colour(x), strconv.Itoa(len(x.Parts)), area(x), whole(x.Colours), whole(x.Primer)})
	}
	return rows
}

// area words the area of a paint: an upper bound, unless parts are of unknown size.
func area(x totals.Paint) string {
	if n := len(x.Unknown); n > 0 {
		return fmt.Sprintf("%s cm2, without %s of unknown size", whole(x.Area), english.Count(n, "part"))
	}
	return english.AtMost(true, whole(x.Area)+" cm2")
}

// colour names a paint.
func colour(x totals.Paint) string {
	if x.Colour == "" {
		return "not stated"
	}
	return x.Colour
}

func (t *totalled) glueRows() [][]string {
	var rows [][]string
	for _, g := range t.Glues {
		rows = append(rows, []string{g.Fixing.ID, strconv.Itoa(g.Joins), strconv.Itoa(g.Joins - g.Unknown), tenths(g.Area), tenths(g.ML)})
	}
	return rows
}

func (t *totalled) shipping() string {
	s := t.Shipping
	hardware := ""
	if s.Others > 0 {
		hardware = ", hardware as far as its mass is stated " + grams(s.Others, false)
	}
	text := fmt.Sprintf("The prints weigh %s without supports%s; with %s for packing %s.",
		grams(s.Prints, s.AtMost), hardware, english.Percent(totals.Packing), grams(s.Mass(), s.AtMost))
	if n := len(s.Unknown); n > 0 {
		text += fmt.Sprintf(" %s without a known mass: %s.", english.Count(n, "part"), english.Few(kits.PartIDs(s.Unknown), maxTotalNames))
	}
	return text
}

// maxTotalNames bounds how many parts are named in a sentence.
const maxTotalNames = 8

// assumes states the ratios, each with its source.
func (t *totalled) assumes() []string {
	supports := "The kit names no printers, so supports are not counted."
	if t.made != nil {
		supports = "Supports are those of the printing plan, where a share of their columns is printed."
	}
	list := []string{
		"Printing: the model with tooling and spares. " + supports + fmt.Sprintf(" For what is washed off, stays in the vat or is purged, %s are added for resin and %s for filament (ours; common practice: 5 to 15 and 3 to 10 %%).",
			english.Percent(totals.Waste[kits.Resin]), english.Percent(totals.Waste[kits.Filament])),
	}
	if len(t.Paints) > 0 {
		list = append(list, fmt.Sprintf("Paint: the whole surface of each part, inside too, so at most; %s of colour and %s of primer by airbrush, each %g mm dry from paint with %s solids of which half reaches the part, 60 cm2 a millilitre (ours). Cans take more.",
			english.Count(totals.CoatsOfColour, "coat"), english.Count(totals.CoatsOfPrimer, "coat"), 10*totals.DryFilm, english.Percent(totals.Solids)))
	}
	if len(t.Glues) > 0 {
		list = append(list, fmt.Sprintf("Adhesives: where the pieces that a join names touch, times %g mm: 0.1 mm between the faces (common practice: 0.05 to 0.2 mm) and as much lost (ours). Joins without measured faces are not in it.", 10*totals.BondLine))
	}
	return append(list, "These are estimates to buy by. What the supplier states comes first.")
}

func tenths(v float64) string { return fmt.Sprintf("%.1f", v) }

func whole(v float64) string {
	if v > 0 && v < 0.5 {
		return "under 1"
	}
	return fmt.Sprintf("%.0f", v)
}

// sheet has a row for each material, paint and adhesive, and one for the parcel.
func (t *totalled) sheet() [][]string {
	rows := [][]string{{"of", "name", "pieces", "volume cm3", "supports cm3", "mass g", "upper bound", "packages", "cost", "currency", "hours least", "hours most", "area cm2", "ml", "primer ml", "parts"}}
	for _, m := range t.Prints {
		row := []string{"print", m.Of.ID, strconv.Itoa(m.Pieces), two(m.Volume), two(m.Supports), two(m.Mass), yes(m.AtMost), "", "", "", "", "", "", "", "", ""}
		if m.Packages > 0 {
			row[7] = strconv.Itoa(m.Packages)
		}
		if m.Cost > 0 {
			row[8], row[9] = two(m.Cost), m.Of.Price.Currency
		}
		if m.Takes.High > 0 {
			row[10], row[11] = two(m.Takes.Low.Hours()), two(m.Takes.High.Hours())
		}
		rows = append(rows, row)
	}
	for _, x := range t.Paints {
		rows = append(rows, []string{"paint", colour(x), "", "", "", "", yes(x.Unknown == nil), "", "", "", "", "", two(x.Area), two(x.Colours), two(x.Primer), strings.Join(kits.PartIDs(x.Parts), " ")})
	}
	for _, g := range t.Glues {
		rows = append(rows, []string{"adhesive", g.Fixing.ID, strconv.Itoa(g.Joins), "", "", "", "", "", "", "", "", "", two(g.Area), two(g.ML), "", ""})
	}
	return append(rows, []string{"parcel", t.p.Kit.Name, "", "", "", two(t.Shipping.Mass()), yes(t.Shipping.AtMost), "", "", "", "", "", "", "", "", ""})
}

func two(v float64) string { return fmt.Sprintf("%.2f", v) }
