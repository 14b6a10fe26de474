package report

import (
	"time"

	"dryfit/plan"
	"dryfit/plan/printing"
)

// PrintingData is the printing plan. Units are mm, mm2, mm3, g, degrees, and
// whole seconds from the start of the first plate.
type PrintingData struct {
	Kit      string         `json:"kit"`      // name of the kit
	OK       bool           `json:"ok"`       // neither the kit nor the printing has a fault
	Ends     Band           `json:"ends"`     // when all is printed
	Plates   []Plate        `json:"plates"`   // by their number
	Parts    []PrintedPart  `json:"parts"`    // that are to be printed
	Steps    []Ready        `json:"steps"`    // when steps have their pieces
	Assumes  []string       `json:"assumes"`  // what the figures assume
	Cautions []string       `json:"cautions"` // for the work that the kit asks for
	Findings []plan.Finding `json:"findings"` // faults first
}

// Band is a range of times.
type Band struct {
	Least int `json:"least"` // seconds
	Most  int `json:"most"`  // seconds
}

// Plate is the pieces printed together.
type Plate struct {
	Number     int           `json:"number"`       // in printing order
	Printer    string        `json:"printer"`      // its id
	Unit       int           `json:"unit"`         // which of several equal printers
	Material   string        `json:"material"`     // its id
	Takes      Band          `json:"takes"`        // to print
	Begins     Band          `json:"begins"`       // from the start of the first plate
	Ends       Band          `json:"ends"`         // from the start of the first plate
	Mass       float64       `json:"mass"`         // of all pieces
	MassIsMost bool          `json:"mass_is_most"` // an upper bound, since some are known by size alone
	Pieces     []PlacedPiece `json:"pieces"`       // in the order in which the build needs them
}

// PlacedPiece is a piece on a plate.
type PlacedPiece struct {
	Piece  string  `json:"piece"`          // its id
	Part   string  `json:"part"`           // id of its part
	Step   int     `json:"step,omitempty"` // number of the first step that needs it
	X      float64 `json:"x"`              // of its box, from the front left corner
	Y      float64 `json:"y"`              // of its box, from the front left corner
	Width  float64 `json:"width"`          // of its box
	Depth  float64 `json:"depth"`          // of its box
	Turned int     `json:"turned"`         // degrees from the part's turn, counter-clockwise from above: 0, 90, 180 or 270
}

// PrintedPart is how a part is printed.
type PrintedPart struct {
	Part     string      `json:"part"`                     // its id
	Number   string      `json:"number,omitempty"`         // that the kit gives it
	Name     string      `json:"name"`                     // in words
	Quantity int         `json:"quantity"`                 // to print
	Printer  string      `json:"printer,omitempty"`        // id of the printer that it is printed on
	Material string      `json:"material,omitempty"`       // its id
	Fits     []Fit       `json:"fits"`                     // the printers that were tried
	Turn     *Turn       `json:"turn,omitempty"`           // from its orientation in the model
	Why      string      `json:"why,omitempty"`            // it lies like this
	Size     *[3]float64 `json:"size,omitempty"`           // as it lies
	Raised   float64     `json:"raised"`                   // above the bed
	Foot     float64     `json:"foot"`                     // that lies on the bed
	Supports *Supports   `json:"supports,omitempty"`       // of one
	Cost     *LyingCost  `json:"cost,omitempty"`           // of lying like this
	Others   []Lying     `json:"other_ways,omitempty"`     // to lie, the next best
	BySize   bool        `json:"by_size"`                  // no mesh: volume, mass and filament are upper bounds
	Volume   float64     `json:"volume"`                   // of one
	Mass     float64     `json:"mass"`                     // of one, without supports
	Filament float64     `json:"filament_m,omitempty"`     // metres for one and its supports
	Takes    *Band       `json:"takes,omitempty"`          // one printed alone
	Largest  *Layer      `json:"largest_layer,omitempty"`  // by its area
	Growth   *Layer      `json:"largest_growth,omitempty"` // from one layer to the next
	Hollow   *Hollowing  `json:"hollowing,omitempty"`      // what hollowing it to walls of 2.5 mm would save
	Hollows  int         `json:"sealed_hollows"`           // that resin cannot leave
	Notes    []string    `json:"print_notes"`              // what its test prints mean for the next
}

// Supports is what holds a part.
type Supports struct {
	Area    float64 `json:"area"`    // of the surface that needs them
	Visible float64 `json:"visible"` // of it, on faces that are seen on the model
	Columns float64 `json:"columns"` // volume of the room under that surface
	OnPart  float64 `json:"on_part"` // of it, on the part itself
	Trapped float64 `json:"trapped"` // of it, in hollows from which they cannot be taken
	Printed float64 `json:"printed"` // volume that is printed
	Mass    float64 `json:"mass"`    // of what is printed
	Islands int     `json:"islands"` // places above the first layer where a layer begins with nothing beneath it; -1: not counted
	Holds   float64 `json:"holds"`   // volume of pockets that open only towards the bed
	Sucks   float64 `json:"sucks"`   // volume of pockets that open only away from the bed
}

// LyingCost is what a way to lie costs, in the units in which people count it.
type LyingCost struct {
	Total    float64 `json:"total"`    // hours of all kinds
	Hours    float64 `json:"hours"`    // of the printer
	Columns  float64 `json:"columns"`  // cm3 of support columns
	Trapped  float64 `json:"trapped"`  // cm3 of them
	Seen     float64 `json:"seen"`     // cm2 of marks on visible faces; on clear ones ten times
	Hidden   float64 `json:"hidden"`   // cm2 of marks on other faces
	Layer    float64 `json:"layer"`    // cm2 of the largest layer
	Growth   float64 `json:"growth"`   // cm2 of the largest growth from one layer to the next
	Holds    float64 `json:"holds"`    // cm3 of resin held in pockets
	Sucks    float64 `json:"sucks"`    // cm3 of pockets that suck on the film
	Islands  float64 `json:"islands"`  // number
	Height   float64 `json:"height"`   // cm
	Unsteady float64 `json:"unsteady"` // 1: tall on a narrow foot
	Footless float64 `json:"footless"` // 1: no flat foot
	Thin     float64 `json:"thin"`     // cm of thin pegs across the layers
	Bed      float64 `json:"bed"`      // cm2 of the bed
}

// Hollowing is what hollowing a part would save.
type Hollowing struct {
	Saves  float64 `json:"saves"`  // volume
	Mass   float64 `json:"mass"`   // of that
	Hidden string  `json:"hidden"` // side of the model with the most hidden face for drain holes; empty if none is known
}

// Lying is a way to lie.
type Lying struct {
	Turn  Turn      `json:"turn"`  // from its orientation in the model
	Why   string    `json:"why"`   // in words
	Takes Band      `json:"takes"` // one printed alone
	Cost  LyingCost `json:"cost"`  // of lying like this
}

// Fit is how a part fits a printer.
type Fit struct {
	Printer string       `json:"printer"` // its id
	Way     printing.Way `json:"way"`     // how it fits; no: too large
	Over    [3]float64   `json:"over"`    // how far it sticks out
}

// Turn is the rotation to enter in a slicer.
type Turn struct {
	X float64 `json:"x"` // degrees, first
	Y float64 `json:"y"` // degrees, second
	Z float64 `json:"z"` // degrees, third
}

// Layer is one layer of a print.
type Layer struct {
	Area float64 `json:"area"` // mm2
	At   float64 `json:"at"`   // above the bottom of the part
}

// Ready is when a step has its pieces.
type Ready struct {
	Number int  `json:"number"`            // of the step
	Own    Band `json:"pieces_printed"`    // those of the step itself
	All    Band `json:"earlier_steps_too"` // those of all steps before it as well
}

func (p *Printing) data(ok bool) PrintingData {
	out := PrintingData{Kit: p.p.Kit.Name, OK: ok, Ends: band(p.Ends), Plates: []Plate{}, Parts: []PrintedPart{}, Steps: []Ready{}, Assumes: []string{},
		Cautions: cautions(p.p.Constraints.Hazards()), Findings: complete(p.findings)}
	for _, plate := range p.Plates {
		out.Plates = append(out.Plates, plateData(plate))
	}
	for _, part := range p.Parts {
		out.Parts = append(out.Parts, p.partData(part))
	}
	for _, r := range p.ready {
		out.Steps = append(out.Steps, Ready{p.p.Draft().Place[r.Step], band(r.Own), band(r.All)})
	}
	for _, process := range p.processes() {
		out.Assumes = append(out.Assumes, printing.Assumptions[process])
	}
	return out
}

func band(b printing.Band) Band {
	return Band{seconds(b.Low.Round(time.Second)), seconds(b.High.Round(time.Second))}
}

func plateData(plate *printing.Plate) Plate {
	out := Plate{Number: plate.Number, Printer: plate.Printer.ID, Unit: plate.Unit, Material: plate.Material.ID,
		Takes: band(plate.Takes), Begins: band(plate.Begins), Ends: band(plate.Ends), Pieces: []PlacedPiece{}}
	out.Mass, out.MassIsMost = plate.Mass()
	out.Mass = hundredth(out.Mass)
	for _, x := range plate.InNeed() {
		w, d := x.Box()
		piece := PlacedPiece{Piece: x.Piece.ID, Part: x.Part.Of.ID, X: hundredth(x.X), Y: hundredth(x.Y), Width: hundredth(w), Depth: hundredth(d), Turned: 90 * x.Quarters}
		if x.Piece.Need != printing.NoStep {
			piece.Step = x.Piece.Need
		}
		out.Pieces = append(out.Pieces, piece)
	}
	return out
}

func (p *Printing) partData(part *printing.Planned) PrintedPart {
	out := PrintedPart{Part: part.Of.ID, Number: part.Of.Number, Name: part.Of.Name, Quantity: len(part.Pieces), Fits: []Fit{},
		BySize: part.BySize, Volume: hundredth(part.Shape.Volume), Mass: hundredth(part.Mass), Filament: hundredth(part.Strand), Hollows: part.Hollows,
		Notes: append([]string{}, p.notes(part.Of)...)}
	for k, printer := range p.p.Kit.Printers {
		if part.Tried[k] {
			f := part.On[k]
			out.Fits = append(out.Fits, Fit{printer.ID, f.Way, hundredths(f.Over)})
		}
	}
	if s := part.Setting; s != nil {
		x, y, z := s.Turn.Angles()
		out.Printer, out.Material, out.Why, out.Raised = part.Printer.ID, part.Made.ID, s.Why, s.Raised
		out.Turn, out.Size, out.Takes = &Turn{hundredth(x), hundredth(y), hundredth(z)}, pointer(hundredths(s.Size)), pointer(band(s.Time))
	}
	out.held(part)
	if part.Sliced {
		out.Largest = &Layer{hundredth(part.Largest.Area), hundredth(part.Largest.At)}
		out.Growth = &Layer{hundredth(part.Growth.Area), hundredth(part.Growth.At)}
	}
	return out
}

// held adds what holds the part, and other ways for it to lie.
func (out *PrintedPart) held(part *printing.Planned) {
	s := part.Setting
	if s == nil {
		return
	}
	if h := part.Hollow; h != nil {
		out.Hollow = &Hollowing{hundredth(h.Saves), hundredth(h.Mass), h.Hidden}
	}
	n := &s.Need
	out.Foot = hundredth(s.Foot)
	out.Supports = &Supports{hundredth(n.Area), hundredth(n.Visible), hundredth(n.Columns), hundredth(n.OnPart), hundredth(n.Trapped), hundredth(s.Printed),
		hundredth(part.Support), n.Islands, hundredth(s.Pockets.Down), hundredth(s.Pockets.Up)}
	out.Cost = pointer(costData(&s.Cost))
	for _, o := range s.Others {
		x, y, z := o.Turn.Angles()
		out.Others = append(out.Others, Lying{Turn{hundredth(x), hundredth(y), hundredth(z)}, o.Why, band(o.Time), costData(&o.Cost)})
	}
}

func costData(c *printing.Cost) LyingCost {
	h := hundredth
	return LyingCost{h(c.Total), h(c.Hours), h(c.Columns), h(c.Trapped), h(c.Seen), h(c.Hidden), h(c.Layer), h(c.Growth), h(c.Holds), h(c.Sucks),
		h(c.Islands), h(c.Height), h(c.Unsteady), h(c.Footless), h(c.Thin), h(c.Bed)}
}
