package report

import (
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/rescale"
)

// RescaleData is a kit at another scale. What is not known is left out.
type RescaleData struct {
	Kit        string              `json:"kit"`                    // name of the kit
	OK         bool                `json:"ok"`                     // nothing breaks at the new scale
	From       string              `json:"from,omitempty"`         // the scale of the kit
	To         string              `json:"to,omitempty"`           // the new scale
	Percent    float64             `json:"percent"`                // of the present size
	Factor     float64             `json:"factor" exact:""`        // the same as a factor
	Model      *[3]float64         `json:"model_mm,omitempty"`     // size at the new scale
	Figures    *Figures            `json:"figures,omitempty"`      // sizes of people at the new scale
	OrderHolds bool                `json:"order_holds"`            // an order is proven at the new scale
	Parts      []RescaledPart      `json:"parts"`                  // in file order
	Moves      []RescaledMove      `json:"moves"`                  // of pieces that keep their size
	Seats      []RescaledSeat      `json:"seats"`                  // of parts that keep their size
	Clearances []RescaledClearance `json:"clearances"`             // of pieces that move
	Wires      []RescaledWire      `json:"wires"`                  // with their holes
	Mass       float64             `json:"mass_g,omitempty"`       // of what is printed
	MassIsMost bool                `json:"mass_is_most,omitempty"` // some masses are known by size alone
	Ballast    *RescaledBallast    `json:"ballast,omitempty"`      // for a kit that has some
	Printing   *RescaledPrinting   `json:"printing,omitempty"`     // for a kit that names printers
	Wrote      string              `json:"wrote,omitempty"`        // the kit file for the new scale
	Findings   []plan.Finding      `json:"findings"`               // faults first
}

// Figures are sizes of people, mm.
type Figures struct {
	Person float64 `json:"person_175_mm"` // one who is 1.75 m tall
	Eye    float64 `json:"eye_mm"`        // height of the eye
}

// RescaledMove is how far a piece of fixed size goes.
type RescaledMove struct {
	Piece string     `json:"piece"` // its id
	By    [3]float64 `json:"by_mm"` // along x, y and z
}

// RescaledBallast is the ballast at both scales, g.
type RescaledBallast struct {
	Was    float64 `json:"needed_was"` // now
	Now    float64 `json:"needed_now"` // at the new scale
	Stated float64 `json:"stated"`     // by the kit at the new scale
}

// RescaledPart is a part at both scales.
type RescaledPart struct {
	Part     string      `json:"part"`                  // its id
	Fixed    bool        `json:"fixed_size"`            // it keeps its size
	Was      *[3]float64 `json:"was_mm,omitempty"`      // size now
	Now      *[3]float64 `json:"now_mm,omitempty"`      // size at the new scale
	Measured bool        `json:"measured"`              // by its mesh
	Volume   float64     `json:"volume_mm3,omitempty"`  // at the new scale
	Mass     float64     `json:"mass_g,omitempty"`      // at the new scale
	Wall     *Wall       `json:"wall,omitempty"`        // by its mesh
	Fits     *bool       `json:"fits,omitempty"`        // one of the printers
	Printer  string      `json:"printer,omitempty"`     // id of that which prints it at the new scale
	Before   string      `json:"printer_was,omitempty"` // id of that which prints it now
}

// Wall is the thickness of a part, at the kit's own scale and the new one.
type Wall struct {
	Thinnest float64    `json:"thinnest_mm"` // now
	At       [3]float64 `json:"thinnest_at"` // where that is
	Usual    float64    `json:"usual_mm"`    // now
	Least    float64    `json:"least_mm"`    // the thinnest at the new scale
	Minimum  float64    `json:"minimum_mm"`  // that prints
	Advised  float64    `json:"advised_mm"`  // for walls
}

// RescaledSeat is the room for a part that keeps its size.
type RescaledSeat struct {
	Piece string    `json:"piece"`    // its id
	Axis  string    `json:"axis"`     // x, y or z
	Walls [2]string `json:"walls"`    // ids of the pieces at both sides
	Was   float64   `json:"was_mm"`   // room now
	Now   float64   `json:"now_mm"`   // room at the new scale
	Needs float64   `json:"needs_mm"` // room that it takes
	With  []string  `json:"with"`     // ids of what else lies between
}

// RescaledClearance is the fit of a piece that moves.
type RescaledClearance struct {
	Piece   string  `json:"piece"`          // its id
	Axis    string  `json:"axis,omitempty"` // x, y or z
	Against string  `json:"against"`        // what it moves against
	Was     float64 `json:"was_mm"`         // now
	Now     float64 `json:"now_mm"`         // at the new scale
	FitWas  string  `json:"was"`            // in words
	FitNow  string  `json:"now"`            // in words
	BySize  bool    `json:"by_size"`        // not by meshes
}

// RescaledWire is a wire with its narrowest hole.
type RescaledWire struct {
	Wire   string  `json:"wire"`      // its id
	Across float64 `json:"across_mm"` // of the wire
	Hole   float64 `json:"hole_mm"`   // at the new scale
	Was    float64 `json:"fill_was"`  // share of the hole that wires fill, 0 to 1
	Now    float64 `json:"fill_now"`  // the same at the new scale
}

// RescaledPrinting counts plates, and the least and most seconds that they take
// one after the other.
type RescaledPrinting struct {
	PlatesWas  int               `json:"plates_was"`  // now
	PlatesNow  int               `json:"plates_now"`  // at the new scale
	SecondsWas [2]float64        `json:"seconds_was"` // now
	SecondsNow [2]float64        `json:"seconds_now"` // at the new scale
	Printers   []RescaledPrinter `json:"printers"`    // each by itself
}

// RescaledPrinter is what a printer prints at both scales.
type RescaledPrinter struct {
	Printer   string  `json:"printer"`    // its id
	PlatesWas int     `json:"plates_was"` // now
	PlatesNow int     `json:"plates_now"` // at the new scale
	MassWas   float64 `json:"mass_was_g"` // with supports, now; at most
	MassNow   float64 `json:"mass_now_g"` // with supports, at the new scale; at most
}

func rescaleData(r *rescale.Report, wrote string) RescaleData {
	s := r.Scaling
	out := RescaleData{Kit: r.Kit.Name, OK: r.OK(), From: s.From, To: s.To, Percent: hundredth(100 * s.Factor), Factor: s.Factor,
		OrderHolds: r.Now.Sequence != nil, Parts: rescaledParts(r), Moves: []RescaledMove{}, Seats: []RescaledSeat{}, Clearances: []RescaledClearance{}, Wires: []RescaledWire{},
		Wrote: wrote, Findings: complete(r.Findings)}
	if r.Model != nil {
		out.Model = pointer(hundredths(*r.Model))
	}
	if ratio := s.Ratio(); ratio > 0 {
		tall := kits.FigureHeight(1.75, ratio)
		out.Figures = &Figures{hundredth(tall), hundredth(tall * kits.EyeShare)}
	}
	out.Mass, _, out.MassIsMost, _ = r.Mass()
	out.Mass = hundredth(out.Mass)
	if b := r.Ballast; b != nil && b.Known() {
		out.Ballast = &RescaledBallast{hundredth(b.Was.Needed), hundredth(b.Now.Needed), hundredth(b.Now.Stated)}
	}
	for _, m := range r.Moves() {
		out.Moves = append(out.Moves, RescaledMove{r.Kit.Pieces[m.Piece].ID, hundredths(m.By)})
	}
	for _, x := range r.Seats {
		out.Seats = append(out.Seats, RescaledSeat{r.Kit.Pieces[x.Piece].ID, axis(x.Axis), [2]string(r.Kit.IDs(x.Walls[:])), hundredth(x.Was), hundredth(x.Now), hundredth(x.Needs), r.Kit.IDs(x.Between)})
	}
	for i := range r.Clearances {
		x := &r.Clearances[i]
		out.Clearances = append(out.Clearances, RescaledClearance{Piece: r.Kit.Pieces[x.Piece].ID, Axis: axis(x.Axis), Against: x.Against,
			Was: hundredth(x.Was), Now: hundredth(x.Now), FitWas: x.Fit(x.Was), FitNow: x.Fit(x.Now), BySize: x.BySize})
	}
	for _, x := range r.Leads {
		out.Wires = append(out.Wires, RescaledWire{x.Wire.ID, hundredth(*x.Wire.Across), hundredth(*x.Wire.Hole), hundredth(x.Was), hundredth(x.Now)})
	}
	if q := r.Prints; q != nil {
		out.Printing = &RescaledPrinting{len(q.Was.Plates), len(q.Now.Plates), secondsOf(rescale.MachineTime(q.Was)), secondsOf(rescale.MachineTime(q.Now)), nil}
		was, now := rescale.Shares(r.Was.Kit.Printers, q.Was), rescale.Shares(r.Kit.Printers, q.Now)
		for k := range now {
			out.Printing.Printers = append(out.Printing.Printers, RescaledPrinter{now[k].Printer.ID, was[k].Plates, now[k].Plates, hundredth(was[k].Mass), hundredth(now[k].Mass)})
		}
	}
	return out
}

// axis names an axis by its number; empty for none.
func axis(n int) string {
	if n < 0 {
		return ""
	}
	return "xyz"[n : n+1]
}

func rescaledParts(r *rescale.Report) []RescaledPart {
	fits := map[string]*bool{}
	was, now := map[string]string{}, map[string]string{}
	if r.Prints != nil {
		for i, p := range r.Prints.Now.Parts {
			fits[p.Of.ID] = pointer(p.Fits())
			was[p.Of.ID], now[p.Of.ID] = printerOf(r.Prints.Was.Parts[i]), printerOf(p)
		}
	}
	list := []RescaledPart{}
	for _, p := range r.Parts {
		out := RescaledPart{Part: p.Of.ID, Fixed: p.Of.FixedSize, Measured: p.Measured, Volume: hundredth(p.Volume), Mass: hundredth(p.Mass), Fits: fits[p.Of.ID], Printer: now[p.Of.ID], Before: was[p.Of.ID]}
		if p.Was != [3]float64{} {
			out.Was, out.Now = pointer(hundredths(p.Was)), pointer(hundredths(p.Now))
		}
		if w := p.Wall; w != nil {
			out.Wall = &Wall{hundredth(w.Thinnest), hundredths(w.At), hundredth(w.Usual), hundredth(w.Least), w.Minimum, w.Advised}
		}
		list = append(list, out)
	}
	return list
}

// printerOf is the id of the printer that prints a part; empty if it fits none.
func printerOf(p *printing.Planned) string {
	if p.Printer == nil {
		return ""
	}
	return p.Printer.ID
}

func secondsOf(t printing.Band) [2]float64 {
	return [2]float64{hundredth(t.Low.Seconds()), hundredth(t.High.Seconds())}
}
