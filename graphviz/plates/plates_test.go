package plates

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits"
	"dryfit/plan/printing"
)

// outlined is a setting whose outline has the given rows, in cells of 1 mm.
func outlined(size [3]float64, w int, rows ...[]printing.Span) *printing.Setting {
	return &printing.Setting{Size: size, Outline: &printing.Outline{Cell: 1, Size: size, Mask: printing.Mask{W: w, Rows: rows}}}
}

// plateWith is a plate of 100 x 60 mm with a frame that lies as it is, the same frame
// turned by a right angle, and a pin too small for its name.
func plateWith() *printing.Plate {
	frame := &printing.Part{Of: &kits.Part{ID: "frame", Name: "Frame & <co>", Number: "W1"}}
	pin := &printing.Part{Of: &kits.Part{ID: "a-pin-with-a-long-name", Name: "Pin"}}
	full, hole := []printing.Span{{From: 0, To: 40}}, []printing.Span{{From: 0, To: 20}, {From: 30, To: 40}}
	rows := [][]printing.Span{full, full, full, full, full, full, full, full, hole, hole, hole, hole, full, full, full, full, full, full, full, full}
	lying := outlined([3]float64{40, 20, 5}, 40, rows...)
	small := outlined([3]float64{3, 3, 5}, 3, []printing.Span{{From: 0, To: 3}}, []printing.Span{{From: 0, To: 3}}, []printing.Span{{From: 0, To: 3}})
	return &printing.Plate{Number: 3, Printer: &kits.Printer{ID: "desk", Volume: [3]float64{100, 60, 150}}, Material: &kits.Material{ID: "resin"},
		Pieces: []printing.Placed{
			{Part: frame, Setting: lying},
			{Part: frame, Setting: lying, X: 50, Y: 10, Quarters: 1},
			{Part: pin, Setting: small, X: 90, Y: 50},
		}}
}

// A plate is drawn to scale with its front below, each piece where it lies, with its
// hole.
func TestPlateDrawing(t *testing.T) {
	p := Plate(plateWith(), "A & B")
	if p.Width != 136 || p.Scale != 1 {
		t.Errorf("the drawing is %g mm wide at %g, want 136 at 1", p.Width, p.Scale)
	}
	const left, front = 8.0, 8 + 13.0 + 60
	at := func(x, y float64) picture.Point { return picture.Point{left + x, front - y} }
	want := [][][]picture.Point{
		{{at(0, 0), at(40, 0), at(40, 20), at(0, 20)}, {at(20, 12), at(30, 12), at(30, 8), at(20, 8)}},
		{{at(50, 10), at(70, 10), at(70, 50), at(50, 50)}, {at(58, 40), at(62, 40), at(62, 30), at(58, 30)}},
		{{at(90, 50), at(93, 50), at(93, 53), at(90, 53)}},
	}
	var got [][][]picture.Point
	var texts []string
	for _, m := range p.Marks {
		if m.Text != "" {
			texts = append(texts, m.Text)
		} else if m.Fill == "#cfdde6" {
			got = append(got, m.Paths)
		}
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("outlines\n%v, want\n%v", got, want)
	}
	all := "|" + strings.Join(texts, "|") + "|"
	for _, w := range []string{"Plate 3: resin on desk", "A & B", "|W1|", "1  W1 Frame & <co> (2)", "2  Pin", "|2|", "50 mm"} {
		if !strings.Contains(all, w) {
			t.Errorf("%q is not written: %s", w, all)
		}
	}
}

// On one sheet the plates lie beside and below one another; a sheet of none is one too.
func TestPlatesSheet(t *testing.T) {
	p := Sheet([]*printing.Plate{plateWith(), plateWith(), plateWith()}, "Kit")
	corners := map[picture.Point]bool{}
	for _, m := range p.Marks {
		if m.Text == "Plate 3: resin on desk" {
			corners[m.Paths[0][0]] = true
		}
	}
	if len(corners) != 3 || !corners[picture.Point{8, 12}] || !corners[picture.Point{144, 12}] {
		t.Errorf("the plates are at %v", corners)
	}
	if none := Sheet(nil, "Kit"); none.Width <= 0 || none.Height <= 0 {
		t.Errorf("a sheet of no plates is %g x %g mm", none.Width, none.Height)
	}
}

// The title of a plate says which of several printers it is on.
func TestTitle(t *testing.T) {
	p := &printing.Plate{Number: 3, Unit: 2, Material: &kits.Material{ID: "grey"}, Printer: &kits.Printer{ID: "small", Count: 1}}
	if got := Title(p); got != "Plate 3: grey on small" {
		t.Error(got)
	}
	if p.Printer.Count = 2; Title(p) != "Plate 3: grey on small no. 2" {
		t.Error(Title(p))
	}
}
