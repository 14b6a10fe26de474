package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"dryfit/kits"
	"dryfit/plan/printing"
)

func printingText(w io.Writer, p *printingPlan, o printingOptions) error {
	s := styleFor(w)
	out := &printer{w: w}
	out.wrap("", "", printingSummary(p))
	for _, k := range p.printers {
		out.line("")
		out.line("%s", s.bold(printerSays(k)))
		platesText(out, p, k)
	}
	out.line("")
	out.line("%s", s.bold("When the build has its prints, at the latest"))
	buildsText(out, p)
	if o.parts {
		out.line("")
		out.line("%s", s.bold("Parts"))
		for _, part := range p.Parts {
			partText(out, p, part)
		}
	}
	out.line("")
	out.line("%s", s.bold("What the figures rest on"))
	for _, process := range processes(p) {
		out.wrap("  - ", "    ", printing.Assumptions[process])
	}
	out.wrap("  - ", "    ", "Printers run round the clock, each with the change between two plates that the kit says. Washing, curing, cleaning and painting are not counted. Pieces that no step needs, tooling and spares, come last; print a jig earlier if you need it earlier.")
	out.line("")
	out.line("%s", s.bold("Cautions"))
	for _, c := range cautions(p.rep.Kit) {
		out.wrap("  - ", "    ", c)
	}
	return out.err
}

func printingSummary(p *printingPlan) string {
	pieces, homeless := 0, 0
	var model printing.Band
	for _, plate := range p.Plates {
		pieces += len(plate.Pieces)
		for _, x := range plate.Pieces {
			if x.Piece.Need != printing.NoStep {
				model = printing.Band{Low: max(model.Low, plate.Ends.Low), High: max(model.High, plate.Ends.High)}
			}
		}
	}
	for _, part := range p.Parts {
		if !part.Fits() {
			homeless += len(part.Pieces)
		}
	}
	text := fmt.Sprintf("%s: %s on %s. What the model needs is printed %s", p.rep.Kit.Name, many(pieces, "piece"), many(len(p.Plates), "plate"), after(model))
	if p.Ends != model {
		text += fmt.Sprintf(", all else %s", after(p.Ends))
	}
	if homeless > 0 {
		text += fmt.Sprintf(". %s not planned: no printer takes them", many(homeless, "piece"))
	}
	return text + "."
}

func printerSays(k *kits.Printer) string {
	text := fmt.Sprintf("%s: %s, %g x %g x %g mm, layers of %g mm", k.ID, k.Process, k.Volume[0], k.Volume[1], k.Volume[2], k.Layer)
	if k.Count > 1 {
		text += fmt.Sprintf(", %d of them", k.Count)
	}
	return text
}

// platesText lists the plates of one kind of printer.
func platesText(out *printer, p *printingPlan, k *kits.Printer) {
	any := false
	for _, plate := range p.Plates {
		if plate.Printer != k {
			continue
		}
		any = true
		at := ""
		if k.Count > 1 {
			at = fmt.Sprintf(" on no. %d", plate.Unit)
		}
		if k.Process == kits.Resin {
			at += fmt.Sprintf(", %s high", length(plate.Height()))
		}
		out.wrap("  ", "      ", fmt.Sprintf("plate %d%s: %s, %s, %s, %s, done %s", plate.Number, at, plate.Material.ID, many(len(plate.Pieces), "piece"),
			between(plate.Takes), grams(plate.Mass()), after(plate.Ends)))
		out.wrap("      ", "      ", strings.Join(platePieces(plate), ", "))
	}
	if !any {
		out.line("  nothing is printed on it")
	}
}

// platePieces lists the parts on a plate by the designer's numbers, or else by id, with
// how many of each.
func platePieces(plate *printing.Plate) []string {
	var list []string
	for _, part := range partsOn(plate) {
		name := part.part.Of.Number
		if name == "" {
			name = part.part.Of.ID
		}
		if n := len(part.pieces); n > 1 {
			name += fmt.Sprintf(" (%d)", n)
		}
		list = append(list, name)
	}
	return list
}

// onPlate is the pieces of a part on one plate.
type onPlate struct {
	part   *printing.Part
	pieces []printing.Placed
}

// partsOn lists the parts on a plate in the sequence in which the build needs them.
func partsOn(plate *printing.Plate) []*onPlate {
	of := map[*printing.Part]*onPlate{}
	var list []*onPlate
	for _, x := range plate.InNeed() {
		if of[x.Part] == nil {
			of[x.Part] = &onPlate{part: x.Part}
			list = append(list, of[x.Part])
		}
		of[x.Part].pieces = append(of[x.Part].pieces, x)
	}
	return list
}

// buildsText says for each build when, at the latest, its first step has its pieces and
// when all of them have.
func buildsText(out *printer, p *printingPlan) {
	q := p.rep.Draft()
	first, last := map[int]time.Duration{}, map[int]time.Duration{}
	for _, r := range p.ready {
		u := q.BuildOf[r.Step]
		if _, known := first[u]; !known && r.Own.High > 0 {
			first[u] = r.All.High
		}
		last[u] = max(last[u], r.All.High)
	}
	for _, u := range append(q.SubBuilds(), 0) {
		name := "main build"
		if u > 0 {
			name = fmt.Sprintf("sub-build %s: %s", q.Builds[u].Letter, q.Title(u))
		}
		from, whole := first[u].Round(time.Minute), last[u].Round(time.Minute)
		switch {
		case whole == 0:
			out.wrap("  ", "      ", name+" waits for no print")
		case from == whole:
			out.wrap("  ", "      ", fmt.Sprintf("%s: after %s", name, span(whole)))
		default:
			out.wrap("  ", "      ", fmt.Sprintf("%s: begins after %s, has all after %s", name, span(from), span(whole)))
		}
	}
}

// partText says all of one part.
func partText(out *printer, p *printingPlan, part *printing.Planned) {
	name := part.Of.Label()
	if n := len(part.Pieces); n > 1 {
		name += fmt.Sprintf(" (%d)", n)
	}
	if !part.Fits() {
		out.wrap("  ", "      ", name+": fits no printer")
		return
	}
	s := part.Setting
	x, y, z := s.Turn.Angles()
	text := fmt.Sprintf("%s: on %s (%s); %s; %s; %s high, %s each", name, part.Printer.ID, fitSays(s), s.Why, turnSays(x, y, z), length(s.Height()), between(s.Time))
	if !part.BySize {
		text += fmt.Sprintf(", %.3g cm3, %s", part.Shape.Volume/1000, grams(part.Mass, false))
		if part.Strand >= 0.05 {
			text += fmt.Sprintf(", %.1f m of filament", part.Strand)
		}
	}
	if part.Sliced {
		text += fmt.Sprintf("; largest layer %.0f mm2 at %s", part.Largest.Area, length(part.Largest.At+s.Raised))
	}
	out.wrap("  ", "      ", text)
}

func fitSays(s *printing.Setting) string {
	return map[printing.Way]string{printing.Straight: "fits straight", printing.Turned: "fits turned", printing.Tilted: "fits only tilted"}[s.Fit.Way]
}

// turnSays is what to type into a program that prepares prints.
func turnSays(x, y, z float64) string {
	var list []string
	for k, a := range [3]float64{x, y, z} {
		if math.Abs(a) > 0.05 {
			list = append(list, fmt.Sprintf("%s %.4g", "xyz"[k:k+1], math.Round(a*10)/10))
		}
	}
	if list == nil {
		return "as it stands in the model"
	}
	return "turned about " + strings.Join(list, ", then ") + " degrees"
}

func length(mm float64) string { return fmt.Sprintf("%.4g mm", math.Round(mm*10)/10) }

// grams words a mass; most says that it may be less.
func grams(g float64, most bool) string {
	text := fmt.Sprintf("%.0f g", g)
	switch {
	case g < 0.05:
		text = "under 0.1 g"
	case g < 10:
		text = fmt.Sprintf("%.1f g", g)
	}
	if most {
		return "at most " + text
	}
	return text
}

func processes(p *printingPlan) []string {
	var list []string
	for _, process := range []string{kits.Resin, kits.Filament} {
		for _, plate := range p.Plates {
			if plate.Printer.Process == process {
				list = append(list, process)
				break
			}
		}
	}
	return list
}

// after words when something is done.
func after(b printing.Band) string {
	if b.Low == 0 && b.High > 0 {
		return "after at most " + span(b.High.Round(time.Minute))
	}
	return "after " + between(b)
}

// between words a time that is not known exactly, to the minute.
func between(b printing.Band) string {
	low, high := b.Low.Round(time.Minute), b.High.Round(time.Minute)
	switch {
	case high == 0:
		return "under 1 min"
	case low == 0:
		return "up to " + span(high)
	case low == high:
		return span(high)
	}
	return span(low) + " to " + span(high)
}
