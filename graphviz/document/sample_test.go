package document

import (
	"math"

	"dryfit/graphviz/picture"
)

// sample is a small booklet with every kind of block, worded as for a real kit.
func sample() *Document {
	return &Document{
		Language: "en",
		Title:    "Harbour tug, 1:50",
		Subtitle: "Building instructions",
		Footer:   "Harbour tug, revision 3",
		Fixed:    Fixed{Contents: "Contents", PageOf: "page %[1]s of %[2]s", Skip: "To the steps", Step: "Step", Take: "Take", Off: "{n} off", Tick: "tick off"},
		Chapters: []Chapter{
			{ID: "front", Blocks: []Block{
				Figure{Picture: whole(), Alt: "The tug from the port bow, with wheelhouse and funnel.", Caption: "The finished model, about half its size."},
				Facts{{"Scale", "1:50"}, {"Size", "412 × 118 × 164 mm"}, {"Pieces", "11, of 6 parts"}, {"Revision", "3, 2 March"}, {"For", "builders with some practice, from 14 years"}},
			}},
			{ID: "needed", Title: "What you need", Blocks: []Block{
				Heading("Tools"),
				Bullets{"a sharp knife and a cutting mat", "clamps that open 30 mm", "a soldering iron"},
				Heading("Glue"),
				Text("Try every joint without glue first. Times are for 20 °C; what the supplier says comes first."),
				Table{Caption: "Glues and how long they take", Head: []string{"Glue", "Can be handled after", "Full strength after"}, Widths: []float64{2, 1, 1},
					Rows: []Row{{Cells: []Cell{{Text: "epoxy"}, {Text: "30 min"}, {Text: "24 h"}}}, {Cells: []Cell{{Text: "clear glue for glazing"}, {Text: "2 h"}, {Text: "12 h"}}}}},
			}},
			{ID: "safety", Title: "Safety", Blocks: []Block{
				Text("The safety data sheet of the supplier and the rules of your country come before what is said here."),
				Message{Signal: "WARNING", Alert: true, Text: "Small strong magnets. Two that are swallowed clamp the gut between them. Keep them away from children; if one is swallowed, see a doctor at once."},
				Message{Signal: "CAUTION", Alert: true, Text: "Blades cut. Cut away from your body, with the part on a mat."},
				Message{Signal: "NOTICE", Text: "A lamp fitted the wrong way round does not light, and may be spoiled."},
			}},
			{ID: "parts", Title: "Parts", Blocks: []Block{parts()}},
			{ID: "steps-a", Title: "Sub-build A: wheelhouse", Blocks: []Block{
				Text("The wheelhouse is finished on the bench and put on the deck in step 4."),
				Step{ID: "step-1", Number: 1, Place: "A, 1 of 2", Title: "Glue the windows A2 into the walls A1 from inside.",
					Needs: []Item{
						{Ref: "A1", Name: "wheelhouse walls", Count: 1, Picture: box(28, 20, 16), Alt: "a box without a roof", Link: "part-A1"},
						{Ref: "A2", Name: "window", Count: 4, Picture: box(8, 2, 6), Alt: "a small pane with a rim", Link: "part-A2"}},
					Figure: &Figure{Picture: place(100, 70), Alt: "The window moves up into its opening from inside.", Caption: "The rim stays inside."},
					Notes:  []string{"Clear glue for glazing: wait 2 h before the next step.", "Keep the glue off the panes."},
					Signs:  []string{"from inside"}},
				Step{ID: "step-2", Number: 2, Place: "A, 2 of 2", Title: "Lay the roof A3 on the walls A1.",
					Before: []Message{{Signal: "WARNING", Alert: true, Text: "Magnets: keep them away from children.", Short: true}, {Signal: "NOTICE", Text: "Heat spoils magnets.", Short: true}},
					Needs: []Item{
						{Ref: "A3", Name: "wheelhouse roof", Count: 1, Picture: box(30, 22, 3), Alt: "a flat roof", Link: "part-A3"},
						{Ref: "H1", Name: "magnet 5 × 2 mm", Count: 4, Picture: box(5, 5, 2), Alt: "a disc", Link: "part-H1"}},
					Figure: &Figure{Picture: place(140, 60), Alt: "The roof comes down onto the walls."},
					Signs:  []string{"do not glue", "stays open"}},
			}},
			{ID: "steps", Title: "The model", Blocks: []Block{
				Step{ID: "step-3", Number: 3, Title: "Lead the lamp wire through the deck.", Notes: []string{"From the battery box to the mast foot, 180 mm and 40 mm to spare.", "Light the lamp before you go on."}},
				Step{ID: "step-4", Number: 4, Title: "Glue the deck B2 onto the hull B1.",
					LastCall: &Ticks{Title: "Last call: after this step you cannot reach", Items: []string{"ballast B3: is it glued in?", "lamp wire: does the lamp light?", "the inside of the hull: is it painted?"}},
					Needs: []Item{
						{Ref: "B1", Name: "hull", Count: 1, Picture: box(60, 18, 12), Alt: "the hull", Link: "part-B1"},
						{Ref: "B2", Name: "deck, with the wheelhouse from sub-build A", Count: 1}},
					Figure: &Figure{Picture: place(165, 80), Alt: "The deck comes down onto the hull.", Caption: "The near side of the hull is cut away."},
					Notes:  []string{"Epoxy: handle after 30 min, full strength after 24 h."},
					Signs:  []string{"turn over", "mirrored"}},
			}},
			{ID: "end", Title: "Before you put the tools away", Blocks: []Block{
				Ticks{Title: "The finished model", Items: []string{"every part is used", "the lamp lights"}},
				Table{Caption: "Papers", Head: []string{"", "What", "Done in"}, Widths: []float64{1, 6, 2},
					Rows: []Row{{Cells: []Cell{{Tick: true}, {Text: "photograph of the inside"}, {Links: []Link{{"4", "step-4"}}}}}, {Cells: []Cell{{Text: "name", Tick: true}, {}, {}}}}},
			}},
		},
	}
}

func parts() Table {
	t := Table{Caption: "Pictures at half size, all at one scale.", Head: []string{"Picture", "Reference", "Quantity", "Name", "Material", "Step"}, Widths: []float64{4, 2, 2, 4, 3, 2}}
	row := func(ref, count, name, material string, p *picture.Picture, steps ...string) {
		var links []Link
		for _, s := range steps {
			links = append(links, Link{s, "step-" + s})
		}
		t.Rows = append(t.Rows, Row{ID: "part-" + ref, Cells: []Cell{{Picture: p, Alt: name}, {Text: ref}, {Text: count}, {Text: name}, {Text: material}, {Links: links}}})
	}
	row("A1", "1", "wheelhouse walls", "resin, grey", box(14, 10, 8), "1", "2")
	row("A2", "4", "window", "resin, clear", box(4, 1, 3), "1")
	row("A3", "1", "wheelhouse roof", "resin, grey", box(15, 11, 1.5), "2")
	row("B1", "1", "hull", "PLA, black", box(30, 9, 6), "4")
	row("H1", "4", "magnet 5 × 2 mm", "bought", box(2.5, 2.5, 1), "2")
	return t
}

// box draws a box from its corner, w wide, d deep and h high.
func box(w, d, h float64) *picture.Picture {
	p := &picture.Picture{Scale: 0.5}
	p.Width, p.Height = math.Ceil((w+d)*0.87)+2, math.Ceil((w+d)*0.5+h)+2
	p.Marks = boxAt(1+d*0.87, 1, w, d, h, "#ffffff", "#e8ecea", 0.25)
	return p
}

func boxAt(x, y, w, d, h float64, top, side string, pen float64) []picture.Mark {
	at := func(a, b, c float64) picture.Point { return picture.Point{x + (a-b)*0.87, y + (a+b)*0.5 - c + h} }
	face := func(fill string, p ...picture.Point) picture.Mark {
		return picture.Mark{Paths: [][]picture.Point{p}, Closed: true, Fill: fill, Stroke: "#1c2426", Width: pen}
	}
	return []picture.Mark{
		face(top, at(0, 0, h), at(w, 0, h), at(w, d, h), at(0, d, h)),
		face(side, at(0, d, h), at(w, d, h), at(w, d, 0), at(0, d, 0)),
		face(side, at(w, 0, h), at(w, d, h), at(w, d, 0), at(w, 0, 0)),
	}
}

func whole() *picture.Picture {
	p := &picture.Picture{Width: 150, Height: 104, Scale: 0.5}
	p.Marks = append(boxAt(42, 26, 90, 34, 14, "#ffffff", "#e8ecea", 0.35), boxAt(66, 17, 22, 18, 18, "#ffffff", "#e8ecea", 0.35)...)
	return p
}

// place is a picture of a step: a large body, a new piece above it, arrow and label.
func place(w, h float64) *picture.Picture {
	p := &picture.Picture{Width: w, Height: h, Scale: 1}
	size := h / 2.6
	x, y := w/2, h*0.42
	p.Marks = boxAt(x, y, size, size*0.8, h*0.1, "#ffffff", "#f3f5f4", 0.25)
	p.Marks = append(p.Marks, boxAt(x, 2, size*0.5, size*0.4, h*0.08, "#ffffff", "#c9d6d2", 0.6)...)
	p.Marks = append(p.Marks,
		picture.Mark{Paths: [][]picture.Point{{{x, h * 0.35}, {x, h * 0.62}}}, Stroke: "#1c2426", Width: 0.25, Dash: []float64{2, 1}},
		picture.Mark{Paths: [][]picture.Point{{{x, h * 0.66}, {x - 2, h*0.66 - 4}, {x + 2, h*0.66 - 4}}}, Closed: true, Fill: "#1c2426"},
		picture.Mark{Text: "new", Size: 4, Bold: true, Anchor: "end", Paths: [][]picture.Point{{{x - size*0.45, 8}}}})
	return p
}
