// Package plates draws the plates of a printer from above, to scale.
package plates

import (
	"fmt"
	"math"
	"unicode/utf8"

	"dryfit/graphviz/picture"
	"dryfit/plan/printing"
)

// Sizes in mm. Plates are drawn to scale: one unit of the drawing is a millimetre.
const (
	plateEdge   = 8.0
	plateTitle  = 13.0 // above the bed
	plateLine   = 4.2  // of the list below it
	plateSmall  = 3.0  // its letters
	letterLeast = 1.4  // on a piece; a longer name is replaced by its number in the list
	letterMost  = 4.5
	letterWide  = 0.62 // of a letter, relative to its height, about
	leastWide   = 120  // width of a plate with its list
)

// Plate draws one plate from above, to scale, with the front of the bed at the bottom:
// the outline of each piece, and a list of the parts.
func Plate(p *printing.Plate, title string) *picture.Picture {
	return Sheet([]*printing.Plate{p}, title)
}

// Bed draws one plate without title and list, to be printed smaller than it is: the words
// below a large bed are larger.
func Bed(p *printing.Plate) *picture.Picture {
	const plain = 80 // mm deep, from which on words grow
	v := p.Printer.Volume
	larger := max(1, v[1]/plain)
	out := &picture.Picture{Width: v[0] + 1, Height: v[1] + plateLine*larger + 1, Scale: 1}
	pen{out, 0.5, 0.5}.bed(p, larger)
	return out.Round()
}

// Sheet draws all plates on one sheet, two side by side.
func Sheet(list []*printing.Plate, title string) *picture.Picture {
	across := min(len(list), 2)
	wide := float64(leastWide)
	for _, p := range list {
		w, _ := plateSize(p)
		wide = max(wide, w)
	}
	out := &picture.Picture{Width: float64(max(across, 1)) * (wide + 2*plateEdge), Scale: 1}
	out.Add(picture.Mark{}) // the ground, once its height is known
	y, row := plateEdge, 0.0
	for i, p := range list {
		pen{out, plateEdge + float64(i%across)*(wide+2*plateEdge), y}.plate(p, title)
		_, h := plateSize(p)
		row = max(row, h)
		if i%across == across-1 || i == len(list)-1 {
			y, row = y+row+2*plateEdge, 0
		}
	}
	out.Height = max(y-plateEdge, 2*plateEdge)
	out.Marks[0] = picture.Mark{Paths: [][]picture.Point{rectangle(0, 0, out.Width, out.Height)}, Closed: true, Fill: "#ffffff"}
	return out.Round()
}

// entry is a line of the list: all pieces of a part on the plate.
type entry struct {
	part   *printing.Part
	number int // in the list, from 1
	pieces int
}

// label is what the piece is called in the drawing.
func (e *entry) label() string {
	if e.part.Of.Number != "" {
		return e.part.Of.Number
	}
	return e.part.Of.ID
}

func (e *entry) text() string {
	text := fmt.Sprintf("%d  %s", e.number, e.part.Of.Name)
	if e.part.Of.Number != "" {
		text = fmt.Sprintf("%d  %s %s", e.number, e.part.Of.Number, e.part.Of.Name)
	}
	if e.pieces > 1 {
		text += fmt.Sprintf(" (%d)", e.pieces)
	}
	return text
}

// entries lists the parts on a plate in the order in which their first pieces
// were placed, and indexes them by part.
func entries(p *printing.Plate) ([]*entry, map[*printing.Part]*entry) {
	var list []*entry
	of := map[*printing.Part]*entry{}
	for _, x := range p.Pieces {
		if of[x.Part] == nil {
			of[x.Part] = &entry{part: x.Part, number: len(list) + 1}
			list = append(list, of[x.Part])
		}
		of[x.Part].pieces++
	}
	return list, of
}

// plateSize is the size of the drawing of a plate: title, bed, scale and list.
func plateSize(p *printing.Plate) (w, h float64) {
	list, _ := entries(p)
	w = max(p.Printer.Volume[0], leastWide)
	lines := math.Ceil(float64(len(list)) / float64(columns(w)))
	return w, plateTitle + p.Printer.Volume[1] + plateLine*(lines+2.5)
}

// columns of the list.
func columns(width float64) int { return max(int(width/70), 1) }

// pen paints from a corner of a picture on.
type pen struct {
	on   *picture.Picture
	x, y float64
}

func (n pen) text(x, y, size float64, m picture.Mark) {
	m.Paths, m.Size, m.Fill = [][]picture.Point{{{n.x + x, n.y + y}}}, size, "#000000"
	n.on.Add(m)
}

func rectangle(x, y, w, h float64) []picture.Point {
	return []picture.Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// plate paints title, bed and list.
func (n pen) plate(p *printing.Plate, title string) {
	v := p.Printer.Volume
	n.text(0, 4, 4.5, picture.Mark{Bold: true, Text: Title(p)})
	n.text(0, 9, plateSmall, picture.Mark{Text: title})
	pen{n.on, n.x, n.y + plateTitle}.bed(p, 1)
	list, _ := entries(p)
	y := plateTitle + v[1] + plateLine
	across := columns(max(v[0], leastWide))
	lines := (len(list) + across - 1) / across
	wide := max(v[0], leastWide) / float64(across)
	for i, e := range list {
		n.text(float64(i/max(lines, 1))*wide, y+plateLine*(1.3+float64(i%max(lines, 1))), plateSmall,
			picture.Mark{Text: short(e.text(), int(wide/(plateSmall*0.52)))})
	}
}

// bed paints the bed with its pieces, and the scale below, in letters so many times as
// large.
func (n pen) bed(p *printing.Plate, larger float64) {
	v := p.Printer.Volume
	n.on.Add(picture.Mark{Paths: [][]picture.Point{rectangle(n.x, n.y, v[0], v[1])}, Closed: true, Fill: "#f7f7f4", Stroke: "#000000", Width: 0.5})
	if e := p.Printer.Edge; e > 0 && 2*e < min(v[0], v[1]) {
		n.on.Add(picture.Mark{Paths: [][]picture.Point{rectangle(n.x+e, n.y+e, v[0]-2*e, v[1]-2*e)}, Closed: true, Stroke: "#8899a3", Width: 0.15, Dash: []float64{1, 1}})
	}
	_, of := entries(p)
	for i := range p.Pieces {
		n.outline(&p.Pieces[i], v[1])
	}
	for i := range p.Pieces {
		n.name(&p.Pieces[i], of[p.Pieces[i].Part], v[1])
	}
	y := v[1] + plateLine*larger
	n.text(0, y, plateSmall*larger, picture.Mark{Text: fmt.Sprintf("front; bed %g x %g mm", v[0], v[1])})
	n.scale(v[0], y, larger)
}

// outline paints the outline of a piece. front is the y of the front of the bed.
func (n pen) outline(x *printing.Placed, front float64) {
	mask, corner := x.Shape()
	cell := x.Setting.Outline.Cell
	w, d := x.Box() // no cell counts beyond it
	var paths [][]picture.Point
	for _, ring := range mask.Rings() {
		var path []picture.Point
		for _, c := range ring {
			px, py := corner[0]+c[0]*cell, corner[1]+c[1]*cell
			path = append(path, picture.Point{n.x + min(max(px, x.X), x.X+w), n.y + front - min(max(py, x.Y), x.Y+d)})
		}
		paths = append(paths, path)
	}
	n.on.Add(picture.Mark{Paths: paths, Closed: true, Fill: "#cfdde6", Stroke: "#20333f", Width: 0.25})
}

// name writes what a piece is called where it has most room for it: its number in the
// list where that is too little.
func (n pen) name(x *printing.Placed, e *entry, front float64) {
	mask, corner := x.Shape()
	cell := x.Setting.Outline.Cell
	text, size := e.label(), 0.0
	var cx, cy float64
	for _, high := range []float64{letterMost, 2.5, letterLeast, cell} {
		rows := max(int(high/cell), 1)
		col, row, wide := mask.Widest(rows)
		fits := min(0.9*float64(wide)*cell/(letterWide*float64(utf8.RuneCountInString(text))), high)
		if fits > size {
			size = fits
			cx, cy = corner[0]+(float64(col)+float64(wide)/2)*cell, corner[1]+(float64(row)+float64(rows)/2)*cell
		}
	}
	if size < letterLeast {
		text, size = fmt.Sprint(e.number), max(size, letterLeast)
	}
	n.text(cx, front-cy+0.36*size, size, picture.Mark{Text: text, Anchor: "middle"})
}

// short cuts a text that is too long.
func short(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:max(most-1, 1)]) + "…"
}

// scale draws a bar of 50 mm, or 20 on a small bed, below the right end of the bed.
func (n pen) scale(width, y, larger float64) {
	long := 50.0
	if width < 2*long {
		long = 20
	}
	x, at := n.x+width-long, n.y+y-2.6*larger
	n.on.Add(picture.Mark{Paths: [][]picture.Point{{{x, at}, {x, at + 1.6}, {x + long, at + 1.6}, {x + long, at}}}, Stroke: "#000000", Width: 0.4})
	n.text(width-long-1.5, y, plateSmall*larger, picture.Mark{Text: fmt.Sprintf("%g mm", long), Anchor: "end"})
}
