// Package plates draws the plates of a printer from above, to scale.
package plates

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"dryfit/graphviz/svg"
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

// Plate draws one plate from above, to scale, with the front of the bed at the bottom: the
// outline of each piece's shadow, and a list of the parts.
func Plate(p *printing.Plate, title string) []byte {
	w, h := plateSize(p)
	return sheet([]*printing.Plate{p}, title, w+2*plateEdge, h+2*plateEdge, 1)
}

// Sheet draws all plates on one sheet, two side by side.
func Sheet(list []*printing.Plate, title string) []byte {
	var w, h float64
	row := 0.0
	widest := 0.0
	for _, p := range list {
		pw, _ := plateSize(p)
		widest = max(widest, pw)
	}
	for i, p := range list {
		_, ph := plateSize(p)
		row = max(row, ph)
		if i%2 == 1 || i == len(list)-1 {
			h, row = h+row+2*plateEdge, 0
		}
	}
	w = float64(min(len(list), 2)) * (widest + 2*plateEdge)
	return sheet(list, title, max(w, leastWide), max(h, plateEdge), 2)
}

// sheet paints plates in rows.
func sheet(list []*printing.Plate, title string, width, height float64, across int) []byte {
	var b strings.Builder
	wide, high := svg.Number(width), svg.Number(height)
	b.WriteString(svg.Head(wide, high, "0 0 "+wide+" "+high, "", title))
	y, row := plateEdge, 0.0
	for i, p := range list {
		_, h := plateSize(p)
		x := plateEdge + float64(i%across)*width/float64(across)
		fmt.Fprintf(&b, "<g transform=\"translate(%s %s)\">\n", svg.Number(x), svg.Number(y))
		paintPlate(&b, p, title)
		b.WriteString("</g>\n")
		row = max(row, h)
		if i%across == across-1 {
			y, row = y+row+2*plateEdge, 0
		}
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
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

func paintPlate(b *strings.Builder, p *printing.Plate, title string) {
	v := p.Printer.Volume
	line := func(x, y, size float64, weight, text string) {
		fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" font-weight=\"%s\">%s</text>\n", svg.Number(x), svg.Number(y), svg.Number(size), weight, svg.Escape(text))
	}
	line(0, 4, 4.5, "bold", fmt.Sprintf("Plate %d: %s on %s", p.Number, p.Material.ID, p.Printer.ID))
	line(0, 9, plateSmall, "normal", title)
	fmt.Fprintf(b, "<rect x=\"0\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"#f7f7f4\" stroke=\"#000000\" stroke-width=\"0.5\"/>\n", svg.Number(plateTitle), svg.Number(v[0]), svg.Number(v[1]))
	list, of := entries(p)
	for i := range p.Pieces {
		paintPiece(b, &p.Pieces[i], of[p.Pieces[i].Part], plateTitle+v[1])
	}
	y := plateTitle + v[1] + plateLine
	paintScale(b, v[0], y)
	line(0, y, plateSmall, "normal", fmt.Sprintf("front; bed %g x %g mm", v[0], v[1]))
	across := columns(max(v[0], leastWide))
	lines := (len(list) + across - 1) / across
	wide := max(v[0], leastWide) / float64(across)
	for i, e := range list {
		line(float64(i/max(lines, 1))*wide, y+plateLine*(1.3+float64(i%max(lines, 1))), plateSmall, "normal", short(e.text(), int(wide/(plateSmall*0.52))))
	}
}

// short cuts a text that is too long.
func short(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:max(most-1, 1)]) + "…"
}

// paintPiece draws the shadow of a piece, its box and its name. front is the y of the front
// of the bed.
func paintPiece(b *strings.Builder, x *printing.Placed, e *entry, front float64) {
	w, d := x.Box()
	var ring [][2]float64
	for _, c := range x.Setting.Shadow {
		if x.Quarter {
			c = [2]float64{w - c[1], c[0]}
		}
		ring = append(ring, [2]float64{x.X + c[0], front - x.Y - c[1]})
	}
	fmt.Fprintf(b, "<polygon points=\"%s\" fill=\"#cfdde6\" stroke=\"#20333f\" stroke-width=\"0.25\"/>\n", svg.Points(ring))
	fmt.Fprintf(b, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"none\" stroke=\"#8899a3\" stroke-width=\"0.15\" stroke-dasharray=\"1 1\"/>\n",
		svg.Number(x.X), svg.Number(front-x.Y-d), svg.Number(w), svg.Number(d))
	text, size, upright := fitLabel(e.label(), w, d)
	if size < letterLeast {
		text, size, upright = fitLabel(fmt.Sprint(e.number), w, d)
		size = max(size, letterLeast)
	}
	cx, cy := x.X+w/2, front-x.Y-d/2
	turn := ""
	if upright {
		turn = fmt.Sprintf(" transform=\"rotate(-90 %s %s)\"", svg.Number(cx), svg.Number(cy))
	}
	fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"middle\"%s>%s</text>\n", svg.Number(cx), svg.Number(cy+0.36*size), svg.Number(size), turn, svg.Escape(text))
}

// fitLabel finds the largest size of a text in a box, along its longer side.
func fitLabel(text string, w, d float64) (string, float64, bool) {
	upright := d > 1.3*w
	if upright {
		w, d = d, w
	}
	size := min(0.85*w/(letterWide*float64(utf8.RuneCountInString(text))), 0.75*d, letterMost)
	return text, size, upright
}

// paintScale draws a bar of 50 mm, or 20 on a small bed, below the right end of the bed.
func paintScale(b *strings.Builder, width, y float64) {
	long := 50.0
	if width < 2*long {
		long = 20
	}
	x := width - long
	fmt.Fprintf(b, "<path d=\"M%s %s v1.6 h%s v-1.6\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.4\"/>\n", svg.Number(x), svg.Number(y-2.6), svg.Number(long))
	fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"end\">%g mm</text>\n", svg.Number(x-1.5), svg.Number(y), svg.Number(plateSmall), long)
}
