package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan/printing"
)

func (p *Printing) blocks(parts bool) []document.Block {
	var b blocks
	b.text("%s", p.summary())
	for _, k := range p.p.Kit.Printers {
		b.heading("%s", printerSummary(k))
		b.add(p.plates(k)...)
	}
	b.heading("When the build has its prints, at the latest")
	b.add(p.builds())
	if parts {
		b.heading("Parts")
		for _, part := range p.Parts {
			b.add(p.partEntry(part))
		}
	}
	b.heading("What the figures assume")
	var grounds []string
	for _, process := range p.processes() {
		grounds = append(grounds, printing.Assumptions[process])
	}
	if rooms := p.rooms(); rooms != nil {
		grounds = append(grounds, fmt.Sprintf("For the aim parts of resin lie so that they take little room on the bed: it counts %s times in what a way to lie costs, so more of them stand.", strings.Join(rooms, " or ")))
	}
	b.bullets(append(grounds, "Printers run round the clock, with the time to change plates that the kit states, and within its hours if it states some; long plates run overnight where that gains time. Washing, curing, cleaning and painting are not counted. Pieces that no step needs, tooling and spares, come last; print a jig earlier if you need it earlier."))
	if parts {
		b.add(weights())
	}
	b.add(cautionBlocks(p.p.Constraints.Hazards(), false)...)
	return b
}

// rooms is how many times room on the bed counted for plates, where that was not once.
func (p *Printing) rooms() (list []string) {
	for _, plate := range p.Plates {
		if n := strconv.Itoa(plate.Room); plate.Room > 1 && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list
}

// weights is what each term of the cost of a way to lie is worth.
func weights() document.Table {
	t := document.Table{Head: []string{"What a way to lie costs, in hours", "each", "resin", "filament", "source"}, Widths: []float64{0.28, 0.08, 0.1, 0.12, 0.42}}
	for _, w := range printing.Weights {
		var row document.Row
		for _, text := range []string{w.Term, w.Unit, fmt.Sprintf("%g", w.Resin), fmt.Sprintf("%g", w.Filament), w.Source} {
			row.Cells = append(row.Cells, document.Cell{Text: text})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (p *Printing) summary() string {
	pieces, spares, homeless := 0, 0, 0
	var model printing.Band
	for _, plate := range p.Plates {
		pieces += len(plate.Pieces)
		for _, x := range plate.Pieces {
			if x.Piece.Spare {
				spares++
			}
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
	if len(p.Plates) == 0 && homeless == 0 {
		return fmt.Sprintf("%s: nothing is left to print; %s printed.", p.p.Kit.Name, are(p.printed))
	}
	text := p.p.Kit.Name + ": "
	if p.printed > 0 {
		text += are(p.printed) + " printed; "
	}
	text += english.Count(pieces, "piece")
	if spares > 0 {
		text += fmt.Sprintf(", %d of them in reserve,", spares)
	}
	text += fmt.Sprintf(" on %s. What the model needs is printed %s", english.Count(len(p.Plates), "plate"), after(model))
	if p.Ends != model {
		text += fmt.Sprintf(", the rest %s", after(p.Ends))
	}
	if homeless > 0 {
		text += fmt.Sprintf(". %s not planned: no printer takes them", english.Count(homeless, "piece"))
	}
	return text + "."
}

// are counts pieces of which something is said.
func are(n int) string { return english.Count(n, "piece") + " " + english.Plural(n, "is", "are") }

func printerSummary(k *kits.Printer) string {
	text := fmt.Sprintf("%s: %s, %g x %g x %g mm, layers of %g mm", k.ID, k.Process, k.Volume[0], k.Volume[1], k.Volume[2], k.Layer)
	if k.Count > 1 {
		text += fmt.Sprintf(", %d of them", k.Count)
	}
	return text
}

// plates lists the plates of one kind of printer, each with its parts.
func (p *Printing) plates(k *kits.Printer) []document.Block {
	var list []document.Block
	for _, plate := range p.Plates {
		if plate.Printer != k {
			continue
		}
		at := ""
		if k.Count > 1 {
			at = fmt.Sprintf(" on no. %d", plate.Unit)
		}
		if k.Process == kits.Resin {
			at += fmt.Sprintf(", %s high", millimetres(plate.Height()))
		}
		text := fmt.Sprintf("plate %d%s: %s, %s, done %s", plate.Number, at, plate.Material.ID, plateSummary(plate), after(plate.Ends))
		list = append(list, document.Entry{Texts: []string{text, strings.Join(partNames(plate), ", ")}})
	}
	if list == nil {
		return []document.Block{document.Text("nothing is printed on it")}
	}
	return list
}

// partNames lists the parts on a plate by the designer's numbers, or else by id, with
// how many of each.
func partNames(plate *printing.Plate) []string {
	var list []string
	for _, on := range partsOn(plate) {
		name := on.part.Of.Number
		if name == "" {
			name = on.part.Of.ID
		}
		list = append(list, times(name, len(on.pieces)))
	}
	return list
}

// times is a name with its count.
func times(name string, n int) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%s (%d)", name, n)
}

// builds says for each build when, at the latest, its first step and all its
// steps have their pieces.
func (p *Printing) builds() document.Facts {
	q := p.p.Draft()
	first, last := map[int]time.Duration{}, map[int]time.Duration{}
	for _, r := range p.ready {
		u := q.BuildOf[r.Step]
		if _, known := first[u]; !known && r.Own.High > 0 {
			first[u] = r.All.High
		}
		last[u] = max(last[u], r.All.High)
	}
	var list document.Facts
	for _, u := range append(q.SubBuilds(), 0) {
		from, whole := english.Minutes(first[u]), english.Minutes(last[u])
		text := fmt.Sprintf("starts after %s, has everything after %s", from, whole)
		switch {
		case last[u] == 0:
			text = "waits for no print"
		case from == whole:
			text = "after " + whole
		}
		list = append(list, document.Fact{Name: buildName(q, u), Value: text})
	}
	return list
}

// partEntry gives the details of one part, and the best ways for it to lie.
func (p *Printing) partEntry(part *printing.Planned) document.Entry {
	name := times(part.Of.Label(), len(part.Pieces))
	if !part.Fits() {
		return document.Entry{Texts: []string{name + ": fits no printer"}}
	}
	s := part.Setting
	text := fmt.Sprintf("%s: on %s (%s); %s; %s; %s high, %s each", name, part.Printer.ID, fitWord[s.Fit.Way], s.Why, turnOf(s), millimetres(s.Height()), between(s.Time))
	if !part.BySize {
		text += fmt.Sprintf(", %.3g cm3, %s", part.Shape.Volume/1000, grams(part.Mass, false))
		if part.Support >= 0.05 {
			text += fmt.Sprintf(" and %s of supports", grams(part.Support, false))
		}
		if part.Strand >= 0.05 {
			text += fmt.Sprintf(", %.1f m of filament", part.Strand)
		}
	}
	if part.Sliced {
		text += fmt.Sprintf("; largest layer %.0f mm2 at %s", part.Largest.Area, millimetres(part.Largest.At+s.Raised))
	}
	texts := []string{text}
	if m := s.Marked(); m != "" {
		texts = append(texts, "supports mark "+m)
	}
	if part.Hollow != nil {
		texts = append(texts, part.Hollow.Says())
	}
	e := document.Entry{Texts: append(texts, p.notes(part.Of)...)}
	if len(s.Others) > 0 && !part.BySize {
		l := document.List{Title: "best ways to lie", Numbered: true}
		for _, o := range append([]*printing.Setting{s}, s.Others...) {
			l.Items = append(l.Items, wayToLie(o))
		}
		e.Lists = append(e.Lists, l)
	}
	return e
}

// wayToLie is one of the best ways to lie, with its numbers.
func wayToLie(s *printing.Setting) string {
	c := &s.Cost
	text := fmt.Sprintf("%s: costs %.1f h; %s on the printer, %s high, largest layer %.1f cm2", turnOf(s), c.Total, between(s.Time), millimetres(s.Height()), c.Layer)
	if c.Columns < 0.05 {
		text += ", no supports"
	} else {
		text += fmt.Sprintf(", %.1f cm3 of columns, marks %.1f cm2 of visible and %.1f of other faces", c.Columns, s.Need.Visible/100, (s.Need.Area-s.Need.Visible)/100)
	}
	for _, x := range []struct {
		value, least float64
		format       string
	}{
		{c.Holds, 0.05, ", holds %.2g cm3 of resin"}, {c.Sucks, 0.05, ", %.2g cm3 sucks on the film"},
		{c.Trapped, 0.05, ", traps %.2g cm3 of columns"}, {c.Thin, 0.05, ", %.2g cm of thin pegs across the layers"},
	} {
		if x.value >= x.least {
			text += fmt.Sprintf(x.format, x.value)
		}
	}
	if s.Need.Islands > 0 {
		text += ", " + english.Count(s.Need.Islands, "island")
	}
	if c.Unsteady > 0 {
		text += ", may fall over"
	}
	return text
}

func turnOf(s *printing.Setting) string { return turn(s.Turn.Angles()) }

var fitWord = map[printing.Way]string{printing.Straight: "fits straight", printing.Turned: "fits turned", printing.Tilted: "fits only tilted"}

// turn words the rotation to enter in a slicer, in degrees.
func turn(x, y, z float64) string {
	var list []string
	for k, a := range [3]float64{x, y, z} {
		if math.Abs(a) > 0.05 {
			list = append(list, fmt.Sprintf("%s %.4g", "xyz"[k:k+1], math.Round(a*10)/10))
		}
	}
	if list == nil {
		return "oriented as in the model"
	}
	return "turned about " + strings.Join(list, ", then ") + " degrees"
}

func millimetres(mm float64) string { return fmt.Sprintf("%.4g mm", math.Round(mm*10)/10) }
