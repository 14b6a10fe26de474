package main

import (
	"io"
	"time"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/rescale"
)

type rescaleReport struct {
	Kit        string              `json:"kit"`
	OK         bool                `json:"ok"`
	From       string              `json:"from,omitempty"`
	To         string              `json:"to,omitempty"`
	Percent    float64             `json:"percent"`
	Factor     float64             `json:"factor"`
	Model      *[3]float64         `json:"model_mm,omitempty"`
	Figures    *figureSizes        `json:"figures,omitempty"`
	OrderHolds bool                `json:"order_holds"`
	Parts      []rescaledPart      `json:"parts"`
	Seats      []rescaledSeat      `json:"seats"`
	Clearances []rescaledClearance `json:"clearances"`
	Wires      []rescaledWire      `json:"wires"`
	Mass       float64             `json:"mass_g,omitempty"`
	MassIsMost bool                `json:"mass_is_most,omitempty"`
	Printing   *rescaledPrinting   `json:"printing,omitempty"`
	Wrote      string              `json:"wrote,omitempty"`
	Findings   []plan.Finding      `json:"findings"`
}

type figureSizes struct {
	Person float64 `json:"person_175_mm"`
	Eye    float64 `json:"eye_mm"`
}

type rescaledPart struct {
	Part     string        `json:"part"`
	Fixed    bool          `json:"fixed_size"`
	Was      *[3]float64   `json:"was_mm,omitempty"`
	Now      *[3]float64   `json:"now_mm,omitempty"`
	Measured bool          `json:"measured"`
	Volume   float64       `json:"volume_mm3,omitempty"`
	Mass     float64       `json:"mass_g,omitempty"`
	Wall     *rescaledWall `json:"wall,omitempty"`
	Fits     *bool         `json:"fits,omitempty"` // one of the printers
}

type rescaledWall struct {
	Thinnest float64    `json:"thinnest_mm"`
	At       [3]float64 `json:"thinnest_at"`
	Usual    float64    `json:"usual_mm"`
	Least    float64    `json:"least_mm"`
	Minimum  float64    `json:"minimum_mm"`
	Advised  float64    `json:"advised_mm"`
}

type rescaledSeat struct {
	Piece string    `json:"piece"`
	Axis  string    `json:"axis"`
	Walls [2]string `json:"walls"`
	Was   float64   `json:"was_mm"`
	Now   float64   `json:"now_mm"`
	Needs float64   `json:"needs_mm"`
	With  []string  `json:"with"`
}

type rescaledClearance struct {
	Piece   string  `json:"piece"`
	Axis    string  `json:"axis,omitempty"`
	Against string  `json:"against"`
	Was     float64 `json:"was_mm"`
	Now     float64 `json:"now_mm"`
	FitWas  string  `json:"was"`
	FitNow  string  `json:"now"`
	BySize  bool    `json:"by_size"`
}

type rescaledWire struct {
	Wire   string  `json:"wire"`
	Across float64 `json:"across_mm"`
	Hole   float64 `json:"hole_mm"`
	Was    float64 `json:"fill_was"`
	Now    float64 `json:"fill_now"`
}

// rescaledPrinting counts plates, and the seconds that all take one after the other.
type rescaledPrinting struct {
	PlatesWas  int        `json:"plates_was"`
	PlatesNow  int        `json:"plates_now"`
	SecondsWas [2]float64 `json:"seconds_was"`
	SecondsNow [2]float64 `json:"seconds_now"`
}

func rescaleJSON(w io.Writer, r *rescale.Report, o rescaleOptions) error {
	s := r.Scaling
	out := rescaleReport{Kit: r.Kit.Name, OK: r.OK(), From: s.From, To: s.To, Percent: hundredth(100 * s.Factor), Factor: s.Factor,
		OrderHolds: r.Now.Sequence != nil, Parts: rescaledParts(r), Seats: []rescaledSeat{}, Clearances: []rescaledClearance{}, Wires: []rescaledWire{},
		Wrote: o.write, Findings: complete(r.Findings)}
	if r.Model != nil {
		out.Model = ptr(hundredths(*r.Model))
	}
	if ratio := s.Ratio(); ratio > 0 {
		tall := kits.FigureHeight(1.75, ratio)
		out.Figures = &figureSizes{hundredth(tall), hundredth(tall * kits.EyeShare)}
	}
	out.Mass, out.MassIsMost, _ = r.Mass()
	out.Mass = hundredth(out.Mass)
	for _, x := range r.Seats {
		out.Seats = append(out.Seats, rescaledSeat{r.Kit.Pieces[x.Piece].ID, "xyz"[x.Axis : x.Axis+1], [2]string(ids(r.Kit, x.Walls[:])), hundredth(x.Was), hundredth(x.Now), hundredth(x.Needs), ids(r.Kit, x.Between)})
	}
	for i := range r.Clearances {
		x := &r.Clearances[i]
		c := rescaledClearance{Piece: r.Kit.Pieces[x.Piece].ID, Against: x.Against, Was: hundredth(x.Was), Now: hundredth(x.Now), FitWas: x.Fit(x.Was), FitNow: x.Fit(x.Now), BySize: x.BySize}
		if x.Axis >= 0 {
			c.Axis = "xyz"[x.Axis : x.Axis+1]
		}
		out.Clearances = append(out.Clearances, c)
	}
	for _, x := range r.Leads {
		out.Wires = append(out.Wires, rescaledWire{x.Wire.ID, hundredth(*x.Wire.Across), hundredth(*x.Wire.Hole), hundredth(x.Was), hundredth(x.Now)})
	}
	if q := r.Prints; q != nil {
		a, b := rescale.MachineTime(q.Was)
		c, d := rescale.MachineTime(q.Now)
		out.Printing = &rescaledPrinting{len(q.Was.Plates), len(q.Now.Plates), secondsOf(a, b), secondsOf(c, d)}
	}
	return writeJSON(w, out)
}

func rescaledParts(r *rescale.Report) []rescaledPart {
	fits := map[string]*bool{}
	if r.Prints != nil {
		for _, p := range r.Prints.Now.Parts {
			fits[p.Of.ID] = ptr(p.Fits())
		}
	}
	list := []rescaledPart{}
	for _, p := range r.Parts {
		out := rescaledPart{Part: p.Of.ID, Fixed: p.Of.FixedSize, Measured: p.Measured, Volume: hundredth(p.Volume), Mass: hundredth(p.Mass), Fits: fits[p.Of.ID]}
		if p.Was != [3]float64{} {
			out.Was, out.Now = ptr(hundredths(p.Was)), ptr(hundredths(p.Now))
		}
		if w := p.Wall; w != nil {
			out.Wall = &rescaledWall{hundredth(w.Thinnest), hundredths(w.At), hundredth(w.Usual), hundredth(w.Least), w.Minimum, w.Advised}
		}
		list = append(list, out)
	}
	return list
}

func secondsOf(low, high time.Duration) [2]float64 {
	return [2]float64{hundredth(low.Seconds()), hundredth(high.Seconds())}
}

func ptr[T any](v T) *T { return &v }
