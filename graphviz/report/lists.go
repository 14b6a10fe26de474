package report

import (
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/testprints"
	"dryfit/plan/totals"
)

// PartsList is the part of the bill of materials that is printed, or the rest of it.
func PartsList(p *plan.Project, printed bool) *Report {
	l := &partsList{p, bill.NewNumbers(p), nil, testprints.Of(p)}
	for _, i := range sorted(bill.List(p)) {
		if i.Part.ToPrint() == printed {
			l.items = append(l.items, i)
		}
	}
	return newReport(p.Kit, p.OK(), l.blocks(), l.sheet(), l.data())
}

// paintWhen are the words for when a part is painted.
var paintWhen = map[string]string{
	kits.PaintBeforeFit: "by itself, before it is fitted", kits.PaintBeforeClose: "with its sub-build, before the space closes",
	kits.PaintOutside: "on the model, with the outside coat", kits.PaintOffModel: "by itself, fitted after the outside coat",
}

// PaintList is what is painted in which colour, and when.
func PaintList(p *plan.Project, t *totals.Totals) *Report {
	var b blocks
	sheet := [][]string{{"colour", "reference", "name", "quantity", "painted", "colour cm2", "colour ml", "primer ml", "part"}}
	numbers := bill.NewNumbers(p)
	for _, x := range t.Paints {
		b.heading("%s: %s, %s ml, primer %s ml", colour(x), area(x), whole(x.Colours), whole(x.Primer))
		var rows [][]string
		for _, part := range x.Parts {
			rows = append(rows, []string{numbers.Of(part), part.Name, strconv.Itoa(part.Quantity), paintWhen[part.Paint]})
			sheet = append(sheet, []string{colour(x), numbers.Of(part), part.Name, strconv.Itoa(part.Quantity), paintWhen[part.Paint], two(x.Area), two(x.Colours), two(x.Primer), part.ID})
		}
		b.add(document.NewTable([]string{"ref.", "name", "qty", "painted"}, rows...))
	}
	if masked := maskedNames(p.Kit, numbers); masked != nil {
		b.heading("Stay clear")
		b.bullets(masked)
	}
	b.add(cautionBlocks(plan.Hazards(p.Kit), true)...)
	return newReport(p.Kit, p.OK(), b, sheet, nil)
}

// maskedNames are the parts that are kept clear of paint.
func maskedNames(k *kits.Kit, numbers *bill.Numbers) []string {
	var list []string
	for _, p := range k.Parts {
		if p.InModel() && p.Paint == kits.PaintMasked {
			list = append(list, numbers.Of(p)+" "+p.Name)
		}
	}
	return list
}
