package printing

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"dryfit/kits/english"
	"dryfit/plan"
)

// longPlate is how long a plate may take before that is worth a word: two days and
// nights, in which few printers are left without a look (ours).
const longPlate = 48 * time.Hour

// plateFindings reports on the plates themselves.
func (p *Plan) plateFindings() []plan.Finding {
	var list []plan.Finding
	add := func(g plan.Grade, repair, text string, args ...any) {
		list = append(list, plan.NewFinding(plan.Printing, g, fmt.Sprintf(text, args...)).Suggest(repair))
	}
	var endless []string
	for _, plate := range p.Plates {
		takes, most := plate.Takes.High, plate.Printer.Longest
		switch {
		case most > 0 && takes > most:
			add(plan.Caution, "split its largest part, or raise longest of "+plate.Printer.ID, "plate %d takes up to %s, longer than %s allows", plate.Number, english.Minutes(takes), plate.Printer.ID)
		case takes >= maxTime:
			endless = append(endless, strconv.Itoa(plate.Number))
		case most == 0 && plate.Takes.Low > longPlate:
			add(plan.Caution, "split its largest part, or print it on a faster printer", "plate %d takes %s or more", plate.Number, english.Minutes(plate.Takes.Low))
		}
		if i := slices.IndexFunc(plate.Pieces, func(x Placed) bool { return !x.ClearsEdge(plate.Printer) }); i >= 0 {
			x := plate.Pieces[i]
			list = append(list, plan.NewFinding(plan.Printing, plan.Caution, fmt.Sprintf("%s comes nearer to the sides of the bed of %s than its edge of %g mm", x.Part.Of.Label(), plate.Printer.ID, plate.Printer.Edge)).
				About(x.Part.Of.ID).Since("printer "+plate.Printer.ID, plate.Printer.Pos).Suggest("split it, or check that the printer reaches so far and lower edge"))
		}
	}
	if len(endless) > 0 {
		add(plan.Caution, "check layer, exposure, motion and flow of the printers, and the unit of the meshes", "%s ten years or more, and %s as ten",
			english.Plural(len(endless), "plate ", "plates ")+english.And(endless, maxNames)+english.Plural(len(endless), " takes", " take"), english.Plural(len(endless), "counts", "count"))
	}
	if p.Ends.High >= maxSum {
		add(plan.Caution, "add printers, or check layer, exposure, motion and flow of those there are", "the plates together take 200 years or more, and count as 200")
	}
	if p.Kept > 0 {
		add(plan.Note, "to plan them anew, delete those not printed under plates in the progress file", "%s as the progress file keeps them", english.Count(p.Kept, "plate")+" "+english.Plural(p.Kept, "is", "are"))
	}
	if len(p.GivenUp) > 0 {
		var numbers []string
		for _, n := range p.GivenUp {
			numbers = append(numbers, strconv.Itoa(n))
		}
		add(plan.Caution, "delete their files", "%s of the progress file cannot be printed as planned any more, since the kit has changed; the pieces are on new plates", english.Plural(len(numbers), "plate ", "plates ")+english.And(numbers, maxNames))
	}
	return list
}
