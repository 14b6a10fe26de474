package document

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"

	"dryfit/graphviz/picture"
)

// A book as a kit of some size has it: a small harbour tug.

// solid is a cuboid of a drawing: its near corner and its size, in mm of the model.
type solid struct {
	at, size [3]float64
	fresh    bool // drawn darker, with a heavier outline
}

// flat is where a corner of the model stands in a drawing: looked at from above the
// corner, all three axes equally short.
func flat(p [3]float64, scale float64) picture.Point {
	s, c := math.Sincos(math.Pi / 6)
	return picture.Point{(p[0] - p[1]) * c * scale, ((p[0]+p[1])*s - p[2]) * scale}
}

// drawing shows solids, the last of them in front, with a guide line down from each
// that is fresh.
func drawing(width, height, scale float64, solids ...solid) *picture.Picture {
	p := &picture.Picture{Width: width, Height: height, Scale: scale}
	shift := func(q picture.Point) picture.Point { return picture.Point{q[0] + width/2, q[1] + height*0.62} }
	for _, s := range solids {
		corner := func(x, y, z float64) picture.Point {
			return shift(flat([3]float64{s.at[0] + x*s.size[0], s.at[1] + y*s.size[1], s.at[2] + z*s.size[2]}, scale))
		}
		fills, line := []string{"#ffffff", "#f0f0f0", "#e0e0e0"}, 0.18
		if s.fresh {
			fills, line = []string{"#d8d8d8", "#b8b8b8", "#989898"}, 0.5
			from, to := corner(0.5, 0.5, 0), corner(0.5, 0.5, 0)
			to[1] += 12
			p.Marks = append(p.Marks, picture.Mark{Paths: [][]picture.Point{{from, to}}, Stroke: "#000000", Width: 0.25, Dash: []float64{1.5, 1}})
		}
		faces := [][]picture.Point{
			{corner(0, 0, 1), corner(1, 0, 1), corner(1, 1, 1), corner(0, 1, 1)},
			{corner(0, 1, 0), corner(1, 1, 0), corner(1, 1, 1), corner(0, 1, 1)},
			{corner(1, 0, 0), corner(1, 1, 0), corner(1, 1, 1), corner(1, 0, 1)},
		}
		for i, f := range faces {
			p.Marks = append(p.Marks, picture.Mark{Paths: [][]picture.Point{f}, Closed: true, Stroke: "#000000", Width: line, Fill: fills[i]})
		}
	}
	return p
}

// arrow points down at a place of a drawing.
func arrow(p *picture.Picture, x, y float64) {
	p.Marks = append(p.Marks,
		picture.Mark{Paths: [][]picture.Point{{{x, y - 14}, {x, y - 3}}}, Stroke: "#000000", Width: 0.9},
		picture.Mark{Paths: [][]picture.Point{{{x, y}, {x - 2, y - 4}, {x + 2, y - 4}}}, Closed: true, Fill: "#000000"})
}

func label(p *picture.Picture, x, y float64, anchor, text string) {
	p.Marks = append(p.Marks, picture.Mark{Paths: [][]picture.Point{{{x, y}}}, Text: text, Size: 3.4, Bold: true, Anchor: anchor, Fill: "#000000"})
}

func part(x, y, z float64) *picture.Picture {
	w := (x + y) * math.Cos(math.Pi/6)
	h := (x+y)/2 + z
	p := drawing(w+1, h+1, 1, solid{size: [3]float64{x, y, z}})
	for _, m := range p.Marks {
		for _, path := range m.Paths {
			for i := range path {
				path[i][0] += y*math.Cos(math.Pi/6) + 0.5 - (w+1)/2
				path[i][1] += z + 0.5 - (h+1)*0.62
			}
		}
	}
	return p
}

// ring is an area with a hole, with two curves as its edges.
func ring(radius float64) *picture.Picture {
	k := 0.5523 * radius // makes four curves a circle (from memory)
	round := func(r, k float64) []picture.Point {
		c := radius + 0.5
		return []picture.Point{{c + r, c}, {c + r, c + k}, {c + k, c + r}, {c, c + r}, {c - k, c + r}, {c - r, c + k}, {c - r, c},
			{c - r, c - k}, {c - k, c - r}, {c, c - r}, {c + k, c - r}, {c + r, c - k}, {c + r, c}}
	}
	return &picture.Picture{Width: 2*radius + 1, Height: 2*radius + 1, Scale: 1, Marks: []picture.Mark{{
		Paths: [][]picture.Point{round(radius, k), round(radius*0.4, k*0.4)}, Closed: true, Curves: true,
		Fill: "#c0c0c0", Stroke: "#000000", Width: 0.3}}}
}

// painted is a PNG with a grey ramp.
func painted(w, h, start int) []byte {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.Gray{uint8(start + (x+y)*120/(w+h))})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err) // a buffer takes all
	}
	return b.Bytes()
}

func sampleBook() *Document {
	return &Document{
		Language: "en",
		Title:    "Harbour tug Ingeborg",
		Subtitle: "Building instructions, 1:72",
		Footer:   "Harbour tug Ingeborg, 1:72, revision C of 3 May",
		Fixed:    Fixed{Contents: "Contents", PageOf: "page %[1]s of %[2]s", Step: "Step", Take: "Take", Off: "{n} off", Tick: "tick"},
		Chapters: []Chapter{sampleFront(), sampleNeeds(), sampleSafety(), sampleParts(), sampleSteps(), sampleEnd()},
	}
}

func sampleFront() Chapter {
	whole := drawing(170, 112, 0.55, tug(5)...)
	return Chapter{ID: "front", Blocks: []Block{
		Figure{Picture: whole, Alt: "the whole tug", Caption: "The finished model, 1:2 of its size"},
		Facts{{"Scale", "1:72"}, {"Length", "212 mm"}, {"Pieces", "23, of these 17 printed"}, {"Revision", "C, 3 May"},
			{"For", "builders who have glued resin before, from 14 years on. Some parts are smaller than 10 mm and break easily."},
			{"Made by", "Ωmega Werft, Καβάλα; Верфь «Ингеборг»"}},
	}}
}

func sampleNeeds() Chapter {
	return Chapter{ID: "needs", Title: "What is needed", Blocks: []Block{
		Heading("Tools"),
		Bullets{"Knife with fresh blades", "Sanding sticks, 400 and 800", "Tweezers", "Clamps or tape to hold the hull halves for two hours"},
		Heading("Adhesives"),
		Table{Head: []string{"Adhesive", "Can be handled after", "Full strength after", "Steps"}, Widths: []float64{3, 2, 2, 2},
			Rows: []Row{
				{Cells: []Cell{{Text: "Cyanoacrylate, thin"}, {Text: "30 s"}, {Text: "2 h"}, {Links: []Link{{"1", "step-1"}, {"2", "step-2"}, {"5", "step-5"}}}}},
				{Cells: []Cell{{Text: "Epoxy, slow"}, {Text: "4 h"}, {Text: "24 h"}, {Links: []Link{{"3", "step-3"}, {"8", "step-8"}}}}},
			}},
		Text("Test each fit dry before any glue is opened. What does not go in without force is to be sanded at the edge, not pressed."),
	}}
}

func sampleSafety() Chapter {
	return Chapter{ID: "safety", Title: "Before you start: safety", Blocks: []Block{
		Text("The sheet of the supplier and the rules of your country come first. What follows is only what this kit has."),
		Message{Signal: "WARNING", Alert: true, Text: "Cyanoacrylate bonds skin and eyes in seconds. Wear glasses. If skin is bonded, soak it in warm soapy water and do not pull."},
		Message{Signal: "CAUTION", Alert: true, Text: "A fresh blade cuts deep. Cut away from yourself, on a mat."},
		Message{Signal: "NOTICE", Text: "Thinner clouds the clear windows. Keep them masked until the outside coat is dry."},
	}}
}

func sampleParts() Chapter {
	rows := []Row{}
	names := []struct {
		name    string
		x, y, z float64
	}{
		{"Hull, left half", 40, 10, 9}, {"Hull, right half", 40, 10, 9}, {"Deck", 38, 18, 1.5}, {"Deckhouse", 14, 10, 9}, {"Wheelhouse", 9, 9, 7},
		{"Funnel", 5, 5, 10}, {"Towing hook", 3, 2, 2}, {"Bollard", 2, 2, 3}, {"Skylight with a very long name that needs a second line and perhaps a third", 8, 4, 2},
		{"Ladder", 2, 1, 12}, {"Mast", 1, 1, 24}, {"Life-raft", 6, 4, 3}, {"Winch", 7, 6, 5}, {"Rudder", 1, 6, 8}, {"Keel", 36, 2, 2}, {"Ventilator cowl", 2, 2, 5},
	}
	for i, n := range names {
		rows = append(rows, Row{ID: fmt.Sprintf("part-%d", i+1), Cells: []Cell{
			{Text: fmt.Sprintf("A%d", i+1)}, {Picture: part(n.x, n.y, n.z), Alt: n.name}, {Text: "1"}, {Text: n.name}, {Text: "resin"},
			{Text: map[bool]string{true: "paint before it is fitted"}[i%3 == 0]}, {Links: []Link{{fmt.Sprint(i%8 + 1), fmt.Sprintf("step-%d", i%8+1)}}},
		}})
	}
	return Chapter{ID: "parts", Title: "Parts", Blocks: []Block{
		Text("Count every part before you start. The pictures are at the size of the parts, if the page is printed at 100 %."),
		Table{Caption: "Printed parts", Head: []string{"No.", "Picture", "Quantity", "Name", "Material", "Remark", "Step"},
			Widths: []float64{1, 4.2, 1.5, 3, 1.6, 2.2, 1}, Rows: rows},
		Table{Caption: "Hardware", Head: []string{"No.", "Picture", "Quantity", "Name", "Counted"}, Widths: []float64{1, 2, 1.5, 5, 1.5},
			Rows: []Row{
				{ID: "part-m1", Cells: []Cell{{Text: "M1"}, {Picture: ring(3)}, {Text: "4 + 1 spare"}, {Text: "Ring magnet 6 × 2 mm"}, {Tick: true}}},
				{ID: "part-w1", Cells: []Cell{{Text: "W1"}, {}, {Text: "300 mm"}, {Text: "Wire, 0.4 mm, → tail lamp"}, {Tick: true, Text: "both"}}},
			}},
	}}
}

// tug are the solids of the first steps, the last of them fresh when it has just come.
func tug(step int) []solid {
	all := []solid{
		{at: [3]float64{-100, -25, -10}, size: [3]float64{200, 25, 22}},
		{at: [3]float64{-100, 0, -10}, size: [3]float64{200, 25, 22}},
		{at: [3]float64{-96, -22, 12}, size: [3]float64{192, 44, 3}},
		{at: [3]float64{-40, -15, 15}, size: [3]float64{70, 30, 22}},
		{at: [3]float64{-30, -12, 37}, size: [3]float64{30, 24, 20}},
	}
	all = all[:min(step, len(all))]
	return all
}

func sampleStep(n int, title string, needs ...Item) Step {
	solids := tug(n)
	k := len(solids) - 1
	solids[k].fresh = true
	solids[k].at[2] += 26
	p := drawing(150, 74, 0.38, solids...)
	arrow(p, 112, 24)
	label(p, 116, 14, "start", fmt.Sprintf("A%d", n))
	return Step{ID: fmt.Sprintf("step-%d", n), Number: n, Place: fmt.Sprintf("A, main hull, %d of 8", n), Title: title,
		Needs: needs, Figure: &Figure{Picture: p, Alt: title, Caption: "Seen from starboard, 1:2"}}
}

func sampleSteps() Chapter {
	item := func(n int, name string, x, y, z float64) Item {
		return Item{Ref: fmt.Sprintf("A%d", n), Name: name, Count: 1, Picture: part(x, y, z), Alt: name, Link: fmt.Sprintf("part-%d", n)}
	}
	one := sampleStep(1, "Lay the left half of the hull on the bench", item(1, "Hull, left half", 40, 10, 9))
	one.Notes = []string{"Inside up."}
	two := sampleStep(2, "Glue the keel into the left half", item(15, "Keel", 36, 2, 2), Item{Ref: "M1", Name: "Ring magnet 6 × 2 mm", Count: 4, Picture: ring(3), Link: "part-m1"})
	two.Before = []Message{{Signal: "WARNING", Alert: true, Short: true, Text: "Cyanoacrylate bonds skin and eyes: wear glasses."}}
	two.Notes = []string{"Cyanoacrylate: hold it for 30 s, full strength after 2 h.", "Red end of each magnet up."}
	two.Signs = []string{"turn over", "do not glue the magnets"}
	three := sampleStep(3, "Close the hull", item(2, "Hull, right half", 40, 10, 9))
	three.Before = []Message{{Signal: "NOTICE", Short: true, Text: "Epoxy that runs out marks the paint: wipe it off at once."}}
	three.LastCall = &Ticks{Title: "LAST CALL. After this step the inside cannot be reached again:", Items: []string{
		"keel A15 is straight and holds", "4 magnets M1 sit with the red end up", "the inside is painted", "wire W1 comes out of the hole in the deck, with 40 mm to spare at its end"}}
	three.Notes = []string{"Epoxy, slow: 4 h until it can be handled, 24 h until it holds. Go on with sub-build B while it cures."}
	four := sampleStep(4, "Set the deckhouse on the deck and press it down until the tabs click on both sides of the skylight, first at the bow and then at the stern",
		item(4, "Deckhouse", 14, 10, 9), item(9, "Skylight", 8, 4, 2), item(10, "Ladder", 2, 1, 12), item(8, "Bollard", 2, 2, 3), item(16, "Ventilator cowl", 2, 2, 5), item(12, "Life-raft", 6, 4, 3), item(13, "Winch", 7, 6, 5))
	four.Signs = []string{"do not glue"}
	steps := []Block{Text("The main build. Sub-build B, the mast, can be done at any time before step 8."), one, two, three, four}
	for n, title := range []string{"Fit the wheelhouse", "Fit the funnel", "Hang the rudder", "Step the mast"} {
		steps = append(steps, sampleStep(n+5, title, item(n+5, title, 9, 9, 7)))
	}
	return Chapter{ID: "main-build", Title: "Main build", Blocks: steps}
}

func sampleEnd() Chapter {
	return Chapter{ID: "end", Title: "When it is done", Blocks: []Block{
		Ticks{Title: "Last look", Items: []string{"All 23 pieces are used", "The lights work", "No glue has whitened the windows"}},
		Figure{Picture: &picture.Picture{Width: 90, Height: 60, PNG: painted(900, 600, 90)}, Alt: "the box", Caption: "The battery goes in from below."},
	}}
}
