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
	"dryfit/plan/bill"
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
		t.Rows = append(t.Rows, row(fmt.Sprint(plate.Number), plate.On(), plate.Material.ID, fmt.Sprint(len(plate.Pieces)),
			millimetres(plate.Height()), grams(plate.Mass()), english.Minutes(plate.Takes.High), english.Minutes(plate.Ends.High)))
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

func (p *Printing) platePage(plate *printing.Plate) []document.Block {
	var b blocks
	b.heading("%s", plates.Title(plate))
	file := plates.Name(plate) + ".3mf"
	if len(plates.Left(plate)) == len(plate.Pieces) {
		file = "none, since no piece has a mesh"
	}
	b.text("%s on %s: %s, %s high; begins %s, is done %s. File: %s.", plate.Material.ID, plate.On(), plateSummary(plate),
		millimetres(plate.Height()), begins(plate.Begins), after(plate.Ends), file)
	t, look := p.pieceTable(plate), p.lookAt(plate)
	b.add(document.Figure{Picture: plates.Bed(plate), Alt: "the bed from above, with its pieces", Caption: "Seen from above, the front of the bed below", High: roomFor(len(t.Rows), len(look))})
	b.add(t)
	if len(look) > 0 {
		b.heading("What to look at")
		b.bullets(look)
	}
	if list := safety.Shorts(language, plan.Only(p.p.Constraints.Hazards(), plateHazards[plate.Printer.Process]...)); len(list) > 0 {
		b.text("Cautions, in full on the first page: %s", strings.Join(list, " "))
	}
	return b
}

// Heights on a page of plates.pdf, mm: what its texts take, a row, a bullet, and the
// least for the drawing.
const (
	sheetRoom   = 164.0
	rowHigh     = 7.0
	bulletHigh  = 6.0
	leastFigure = 55.0
)

// roomFor is how high the drawing may be for all of a plate to go on one page, if that
// leaves enough to read it.
func roomFor(rows, bullets int) float64 {
	return max(sheetRoom-rowHigh*float64(rows)-bulletHigh*float64(bullets), leastFigure)
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

// pieceTable has a row for all pieces of a part that lie alike.
func (p *Printing) pieceTable(plate *printing.Plate) document.Table {
	t := document.Table{Head: []string{"No.", "Piece", "Lies", "Degrees about x, y, z", "mm high", "g each", "supports g", "supports mark, cm2", "min alone"},
		Widths: []float64{2, 4.7, 5.4, 2.9, 1.5, 1.4, 1.9, 3.7, 2}}
	for _, on := range partsOn(plate) {
		for _, alike := range lyingAlike(on.pieces) {
			t.Rows = append(t.Rows, pieceRow(plate, alike))
		}
	}
	return t
}

// lyingAlike divides the pieces of a part into those that lie and are turned alike.
func lyingAlike(pieces []printing.Placed) (list [][]printing.Placed) {
	for _, x := range pieces {
		i := slices.IndexFunc(list, func(l []printing.Placed) bool { return l[0].Turn() == x.Turn() })
		if i < 0 {
			i, list = len(list), append(list, nil)
		}
		list[i] = append(list[i], x)
	}
	for _, alike := range list {
		slices.SortFunc(alike, func(a, b printing.Placed) int { return bill.Natural(a.Piece.ID, b.Piece.ID) })
	}
	return list
}

func pieceRow(plate *printing.Plate, alike []printing.Placed) document.Row {
	x := &alike[0]
	a, b, c := x.Turn().Angles()
	one := &printing.Plate{Material: plate.Material, Pieces: alike[:1]}
	g, most := one.Mass()
	mass := fmt.Sprintf("%.1f", g)
	if most {
		mass = "≤ " + mass
	}
	return row(x.Part.Of.Number, piecesAndFile(alike), lies(x), fmt.Sprintf("%s, %s, %s", degrees(a), degrees(b), degrees(c)),
		fmt.Sprintf("%.1f", x.Setting.Height()), mass, fmt.Sprintf("%.1f", x.Setting.Printed/1000*plate.Material.Density), marks(x.Setting), minutesBetween(x.Setting.Time))
}

// piecesAndFile lists pieces of a part, and the file of their mesh where it has another
// name.
func piecesAndFile(alike []printing.Placed) string {
	x := &alike[0]
	text := x.Piece.ID
	for _, y := range alike[1:] {
		text += ", " + strings.TrimPrefix(y.Piece.ID, x.Part.Of.ID)
	}
	m := x.Part.Mesh()
	if m == nil {
		return text + ": no mesh, not in the file"
	}
	if file := filepath.Base(m.File); !strings.HasPrefix(file, x.Part.Of.ID+".") {
		text += ", of " + file
	}
	return text
}

// marks says how much of a piece supports mark, most of it on faces toward where, and how
// much of that is seen on the model.
func marks(s *printing.Setting) string {
	n := &s.Need
	if n.Area < 1 {
		return "none"
	}
	text := fmt.Sprintf("%.1f %s", n.Area/100, printing.Sides[s.MostMarked()])
	switch {
	case s.Blind:
		return text
	case n.Visible < 0.01*n.Area:
		return text + ", hidden"
	}
	return text + fmt.Sprintf(", %.1f seen", n.Visible/100)
}

// minutesBetween is a range of times in minutes, without the unit.
func minutesBetween(b printing.Band) string {
	low, high := minutes(b.Low.Minutes()), minutes(b.High.Minutes())
	switch {
	case b.High < 30*time.Second:
		return "under 1"
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
	for _, on := range partsOn(plate) {
		if notes := p.notes(on.part.Of); notes != nil {
			list = append(list, on.part.Of.Label()+": "+strings.Join(notes, "; ")+".")
		}
	}
	for _, f := range p.findings {
		about := func(x printing.Placed) bool { return x.Part.Of.ID == f.Piece }
		if f.Kind == plan.Layers && slices.ContainsFunc(plate.Pieces, about) {
			list = append(list, f.Text+".")
		}
	}
	return list
}
