package report

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"dryfit/graphviz/document"
	"dryfit/graphviz/plates"
	"dryfit/graphviz/safety"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/printing"
)

// PlateSheet is the sheet that lies beside the printers: an overview, and a page for
// each plate with its drawing, its pieces and what to look at.
func (p *Printing) PlateSheet() *document.Document {
	d := newDocument(p.p.Kit.Name, nil)
	d.Subtitle = "Plates"
	d.Chapters = []document.Chapter{{ID: "plates", Blocks: p.overview()}}
	for _, plate := range p.Plates {
		d.Chapters = append(d.Chapters, document.Chapter{ID: plates.Name(plate), Blocks: p.platePage(plate)})
	}
	return d
}

func (p *Printing) overview() []document.Block {
	var b blocks
	b.text("%s", p.summary())
	t := document.Table{Head: []string{"Plate", "Printer", "Material", "Pieces", "High", "Mass", "Takes at most", "Done by"}, Widths: []float64{1, 2.6, 2, 1.3, 1.5, 2.4, 2.4, 2.4}}
	for _, plate := range p.Plates {
		t.Rows = append(t.Rows, row(fmt.Sprint(plate.Number), unit(plate), plate.Material.ID, fmt.Sprint(len(plate.Pieces)),
			millimetres(plate.Height()), grams(plate.Mass()), english.Span(plate.Takes.High.Round(time.Minute)), english.Span(plate.Ends.High.Round(time.Minute))))
	}
	b.add(t)
	var hazards []string
	for _, process := range p.processes() {
		hazards = append(hazards, plateHazards[process]...)
	}
	b.add(cautionBlocks(plan.Only(p.p.Constraints.Hazards(), hazards...), false)...)
	return b
}

func row(texts ...string) (r document.Row) {
	for _, text := range texts {
		r.Cells = append(r.Cells, document.Cell{Text: text})
	}
	return r
}

// unit is the printer of a plate, and which of several.
func unit(plate *printing.Plate) string {
	if plate.Printer.Count > 1 {
		return fmt.Sprintf("%s no. %d", plate.Printer.ID, plate.Unit)
	}
	return plate.Printer.ID
}

func (p *Printing) platePage(plate *printing.Plate) []document.Block {
	var b blocks
	b.heading("%s", plates.Title(plate))
	file := plates.Name(plate) + ".3mf"
	if len(plates.Left(plate)) == len(plate.Pieces) {
		file = "none, since no piece has a mesh"
	}
	b.text("%s on %s: %s, %s high; begins %s, is done %s. File: %s.", plate.Material.ID, unit(plate), plateSummary(plate),
		millimetres(plate.Height()), begins(plate.Begins), after(plate.Ends), file)
	b.add(document.Figure{Picture: plates.Bed(plate), Alt: "the bed from above, with its pieces", Caption: "Seen from above, the front of the bed below"})
	t := document.Table{Head: []string{"No.", "Piece", "Mesh", "Lies", "Degrees about x, y, z", "mm high", "g", "supports g", "min alone"},
		Widths: []float64{1.5, 3.8, 3.8, 4.4, 3.2, 1.4, 1.4, 1.8, 2}}
	for _, x := range plate.InNeed() {
		t.Rows = append(t.Rows, p.pieceRow(plate, &x))
	}
	b.add(t)
	if list := p.lookAt(plate); len(list) > 0 {
		b.heading("What to look at")
		b.bullets(list)
	}
	if list := safety.Shorts(language, plan.Only(p.p.Constraints.Hazards(), plateHazards[plate.Printer.Process]...)); len(list) > 0 {
		b.text("Cautions, in full on the first page: %s", strings.Join(list, " "))
	}
	return b
}

// plateHazards are the hazards of the work on a plate, by process.
var plateHazards = map[string][]string{
	kits.Resin:    {"resin-washing", "resin", "solvents", "fibre", "blades"},
	kits.Filament: {"filament-fumes", "fibre", "blades"},
}

// begins words when a plate begins.
func begins(b printing.Band) string {
	if b.High == 0 {
		return "at once"
	}
	return after(b)
}

func (p *Printing) pieceRow(plate *printing.Plate, x *printing.Placed) document.Row {
	file := "none: not in the file"
	if m := x.Part.Mesh(); m != nil {
		file = filepath.Base(m.File)
	}
	a, b, c := x.Turn().Angles()
	one := &printing.Plate{Material: plate.Material, Pieces: []printing.Placed{*x}}
	g, most := one.Mass()
	mass := fmt.Sprintf("%.1f", g)
	if most {
		mass = "≤ " + mass
	}
	return row(x.Part.Of.Number, x.Piece.ID, file, lies(x), fmt.Sprintf("%s, %s, %s", degrees(a), degrees(b), degrees(c)),
		fmt.Sprintf("%.1f", x.Setting.Height()), mass, fmt.Sprintf("%.1f", x.Setting.Printed/1000*plate.Material.Density), minutesBetween(x.Setting.Time))
}

// minutesBetween is a range of times in minutes, without the unit.
func minutesBetween(b printing.Band) string {
	low, high := minutes(b.Low.Minutes()), minutes(b.High.Minutes())
	switch {
	case b.Low == 0:
		return "≤ " + high
	case low == high:
		return high
	}
	return low + " to " + high
}

// upright is by how many degrees a part may lean and still stand straight.
const upright = 1

// lies words how a piece is turned from how it is in the model.
func lies(x *printing.Placed) string {
	up := x.Setting.Turn[2][2]
	angle := math.Acos(min(max(up, -1), 1)) * 180 / math.Pi
	text := fmt.Sprintf("leaning %.0f°", angle)
	switch {
	case angle < upright:
		text = "upright"
	case angle > 180-upright:
		text = "upside down"
	case math.Abs(angle-90) < upright:
		text = "on its side"
	case angle > 90:
		text = fmt.Sprintf("upside down, leaning %.0f°", 180-angle)
	}
	if x.Setting.Raised > 0 {
		return text + ", on supports"
	}
	return text
}

// small is the size in mm below which a piece is easily lost.
const small = 6

// lookAt lists what to look at before, during and after a plate.
func (p *Printing) lookAt(plate *printing.Plate) []string {
	var list []string
	say := func(text string, is func(*printing.Placed) bool) {
		var ids []string
		for _, x := range plate.InNeed() {
			if is(&x) {
				ids = append(ids, x.Piece.ID)
			}
		}
		if len(ids) > 0 {
			list = append(list, text+": "+english.And(ids, 12)+".")
		}
	}
	say("Not in the file, since there is no mesh; export it and plan again", func(x *printing.Placed) bool { return x.Part.Mesh() == nil })
	say("Leaves less than the edge of the bed free; check that the printer reaches it", func(x *printing.Placed) bool { return !x.ClearsEdge(plate.Printer) })
	say("Has a sealed hollow, from which resin cannot drain", func(x *printing.Placed) bool {
		return x.Part.Hollows > 0 && plate.Printer.Process == kits.Resin
	})
	say("Tall on a narrow foot, and may come off; watch it towards the end", func(x *printing.Placed) bool {
		s := x.Setting
		return s.Foot > 0 && s.Height() > 5*math.Sqrt(s.Foot)
	})
	say("Clear: look for marks before it is cured", func(x *printing.Placed) bool { return x.Part.Clear() })
	say("Fragile: take it off the bed and its supports with care", func(x *printing.Placed) bool { return x.Part.Of.Fragile })
	say("In reserve: keep it until the model is built", func(x *printing.Placed) bool { return x.Piece.Spare })
	say("Small: count them when they are washed and taken off", func(x *printing.Placed) bool {
		return max(x.Setting.Size[0], x.Setting.Size[1], x.Setting.Size[2]) < small
	})
	list = append(list, marks(plate)...)
	for _, f := range p.findings {
		about := func(x printing.Placed) bool { return x.Part.Of.ID == f.Piece }
		if f.Kind == plan.Layers && slices.ContainsFunc(plate.Pieces, about) {
			list = append(list, f.Text+".")
		}
	}
	return list
}

// marks says of each part on a plate where supports mark it.
func marks(plate *printing.Plate) (list []string) {
	for _, on := range partsOn(plate) {
		if text := on.pieces[0].Setting.Marked(); text != "" {
			list = append(list, fmt.Sprintf("%s: supports mark %s.", on.part.Of.Label(), text))
		}
	}
	return list
}
