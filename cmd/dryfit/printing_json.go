package main

import (
	"io"
	"time"

	"dryfit/plan"
	"dryfit/plan/printing"
)

// printingReport is the JSON of printing. Lengths are mm, areas mm2, volumes mm3, masses
// g, times whole seconds from the start of the first plate, angles degrees.
type printingReport struct {
	Kit      string         `json:"kit"`
	OK       bool           `json:"ok"`
	Ends     bandJSON       `json:"ends"`
	Plates   []plateJSON    `json:"plates"`
	Parts    []printedJSON  `json:"parts"`
	Steps    []readyJSON    `json:"steps"`
	Assumes  []string       `json:"assumes"`
	Cautions []string       `json:"cautions"`
	Findings []plan.Finding `json:"findings"`
}

type bandJSON struct {
	Least int `json:"least"`
	Most  int `json:"most"`
}

type plateJSON struct {
	Number     int         `json:"number"`
	Printer    string      `json:"printer"`
	Unit       int         `json:"unit"`
	Material   string      `json:"material"`
	Takes      bandJSON    `json:"takes"`
	Begins     bandJSON    `json:"begins"`
	Ends       bandJSON    `json:"ends"`
	Mass       float64     `json:"mass"`
	MassIsMost bool        `json:"mass_is_most"`
	Pieces     []pieceJSON `json:"pieces"`
}

type pieceJSON struct {
	Piece   string  `json:"piece"`
	Part    string  `json:"part"`
	Step    int     `json:"step,omitempty"` // the first that needs it
	X       float64 `json:"x"`              // of its box, from the front left corner
	Y       float64 `json:"y"`
	Width   float64 `json:"width"`
	Depth   float64 `json:"depth"`
	Quarter bool    `json:"quarter"` // turned a right angle from the part's turn
}

type printedJSON struct {
	Part     string      `json:"part"`
	Number   string      `json:"number,omitempty"`
	Name     string      `json:"name"`
	Quantity int         `json:"quantity"`
	Printer  string      `json:"printer,omitempty"`
	Material string      `json:"material,omitempty"`
	Fits     []fitJSON   `json:"fits"`
	Turn     *turnJSON   `json:"turn,omitempty"`
	Why      string      `json:"why,omitempty"`
	Size     *[3]float64 `json:"size,omitempty"` // as it lies
	Raised   float64     `json:"raised"`
	BySize   bool        `json:"by_size"` // no mesh: volume, mass and filament are the most they can be
	Volume   float64     `json:"volume"`
	Mass     float64     `json:"mass"`
	Filament float64     `json:"filament_m,omitempty"`
	Takes    *bandJSON   `json:"takes,omitempty"`
	Largest  *layerJSON  `json:"largest_layer,omitempty"`
	Growth   *layerJSON  `json:"largest_growth,omitempty"` // from one layer to the next
	Hollows  int         `json:"sealed_hollows"`
}

type fitJSON struct {
	Printer string       `json:"printer"`
	Way     printing.Way `json:"way"`
	Over    [3]float64   `json:"over"` // by how much it sticks out
}

type turnJSON struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

type layerJSON struct {
	Area float64 `json:"area"`
	At   float64 `json:"at"` // above the bottom of the part
}

type readyJSON struct {
	Number int      `json:"number"`
	Own    bandJSON `json:"pieces_printed"`
	All    bandJSON `json:"earlier_steps_too"`
}

func printingJSON(w io.Writer, p *printingPlan, _ printingOptions) error {
	out := printingReport{Kit: p.rep.Kit.Name, OK: true, Ends: bandOf(p.Ends), Plates: []plateJSON{}, Parts: []printedJSON{}, Steps: []readyJSON{}, Assumes: []string{},
		Cautions: cautions(p.rep.Kit), Findings: complete(p.findings)}
	for _, f := range p.findings {
		out.OK = out.OK && f.Grade != plan.Fault
	}
	for _, plate := range p.Plates {
		out.Plates = append(out.Plates, plateOf(plate))
	}
	for _, part := range p.Parts {
		out.Parts = append(out.Parts, printedOf(p, part))
	}
	for _, r := range p.ready {
		out.Steps = append(out.Steps, readyJSON{p.rep.Draft().Place[r.Step], bandOf(r.Own), bandOf(r.All)})
	}
	for _, process := range processes(p) {
		out.Assumes = append(out.Assumes, printing.Assumptions[process])
	}
	return writeJSON(w, out)
}

func bandOf(b printing.Band) bandJSON {
	seconds := func(d time.Duration) int { return int(d.Round(time.Second).Seconds()) }
	return bandJSON{seconds(b.Low), seconds(b.High)}
}

func plateOf(plate *printing.Plate) plateJSON {
	out := plateJSON{Number: plate.Number, Printer: plate.Printer.ID, Unit: plate.Unit, Material: plate.Material.ID,
		Takes: bandOf(plate.Takes), Begins: bandOf(plate.Begins), Ends: bandOf(plate.Ends), Pieces: []pieceJSON{}}
	out.Mass, out.MassIsMost = plate.Mass()
	out.Mass = hundredth(out.Mass)
	for _, x := range plate.InNeed() {
		w, d := x.Box()
		piece := pieceJSON{Piece: x.Piece.ID, Part: x.Part.Of.ID, X: hundredth(x.X), Y: hundredth(x.Y), Width: hundredth(w), Depth: hundredth(d), Quarter: x.Quarter}
		if x.Piece.Need != printing.NoStep {
			piece.Step = x.Piece.Need
		}
		out.Pieces = append(out.Pieces, piece)
	}
	return out
}

func printedOf(p *printingPlan, part *printing.Planned) printedJSON {
	out := printedJSON{Part: part.Of.ID, Number: part.Of.Number, Name: part.Of.Name, Quantity: len(part.Pieces), Fits: []fitJSON{},
		BySize: part.BySize, Volume: hundredth(part.Shape.Volume), Mass: hundredth(part.Mass), Filament: hundredth(part.Strand), Hollows: part.Hollows}
	for k, printer := range p.printers {
		if part.Tried[k] {
			f := part.On[k]
			out.Fits = append(out.Fits, fitJSON{printer.ID, f.Way, hundredths(f.Over)})
		}
	}
	if s := part.Setting; s != nil {
		x, y, z := s.Turn.Angles()
		size, takes := hundredths(s.Size), bandOf(s.Time)
		out.Printer, out.Material, out.Why, out.Raised = part.Printer.ID, part.Made.ID, s.Why, s.Raised
		out.Turn, out.Size, out.Takes = &turnJSON{hundredth(x), hundredth(y), hundredth(z)}, &size, &takes
	}
	if part.Sliced {
		out.Largest = &layerJSON{hundredth(part.Largest.Area), hundredth(part.Largest.At)}
		out.Growth = &layerJSON{hundredth(part.Growth.Area), hundredth(part.Growth.At)}
	}
	return out
}

func hundredths(v [3]float64) [3]float64 {
	return [3]float64{hundredth(v[0]), hundredth(v[1]), hundredth(v[2])}
}
