package report

import (
	"dryfit/kits"
	"dryfit/plan"
)

// TotalsData is what a kit takes. Units are g, cm3, cm2, ml and seconds.
type TotalsData struct {
	Kit       string          `json:"kit"`       // name of the kit
	OK        bool            `json:"ok"`        // the kit has no fault
	Materials []TotalMaterial `json:"materials"` // to print with
	Unknown   []string        `json:"unknown"`   // ids of parts to print that are in none of those, since their size or material is not known
	Costs     []TotalCost     `json:"costs"`     // of materials, by currency
	Paints    []TotalPaint    `json:"paints"`    // by colour
	Adhesives []TotalGlue     `json:"adhesives"` // that the joins name
	Shipping  TotalShipping   `json:"shipping"`  // the parts, unbuilt
	Assumes   []string        `json:"assumes"`   // what the figures assume
	Cautions  []string        `json:"cautions"`  // for the work that the kit asks for
}

// TotalMaterial is a material to print with.
type TotalMaterial struct {
	Material string  `json:"material"`           // its id
	Pieces   int     `json:"pieces"`             // with tooling and spares
	Volume   float64 `json:"volume"`             // of the pieces
	Supports float64 `json:"supports"`           // volume
	Mass     float64 `json:"mass"`               // to have: with supports and waste
	AtMost   bool    `json:"at_most"`            // some pieces are known by size alone
	Packages int     `json:"packages,omitempty"` // to buy
	Cost     float64 `json:"cost,omitempty"`     // of those
	Currency string  `json:"currency,omitempty"` // of the cost
	Takes    *Band   `json:"takes,omitempty"`    // on printers, one plate after the other
}

// TotalCost is a sum of money.
type TotalCost struct {
	Buy      float64 `json:"buy"`      // whole packages
	Used     float64 `json:"used"`     // what is used up of them
	Currency string  `json:"currency"` // three letters
}

// TotalPaint is what is painted in one colour.
type TotalPaint struct {
	Colour  string   `json:"colour"`            // empty if not stated
	Parts   []string `json:"parts"`             // ids
	Area    float64  `json:"area"`              // the whole surface: an upper bound for those of known size
	Amount  float64  `json:"amount"`            // ml
	Primer  float64  `json:"primer"`            // ml
	Unknown []string `json:"unknown,omitempty"` // ids of parts of unknown size, which are not in the figures
}

// TotalGlue is an adhesive.
type TotalGlue struct {
	Fixing  string  `json:"fixing"`  // its id
	Joins   int     `json:"joins"`   // that it holds
	Unknown int     `json:"unknown"` // joins whose faces are not measured
	Area    float64 `json:"area"`    // of the faces
	Amount  float64 `json:"amount"`  // ml
}

// TotalShipping is the mass to send.
type TotalShipping struct {
	Prints  float64  `json:"prints"`       // without supports
	Others  float64  `json:"others"`       // bought and made, as far as stated
	Mass    float64  `json:"mass"`         // with packing
	AtMost  bool     `json:"mass_is_most"` // some prints are known by their size only
	Unknown []string `json:"unknown"`      // ids of parts without a known mass
}

func (t *totalled) data() TotalsData {
	s := t.Shipping
	out := TotalsData{Kit: t.p.Kit.Name, OK: t.p.OK(), Materials: []TotalMaterial{}, Unknown: append([]string{}, kits.PartIDs(t.Unknown)...), Costs: []TotalCost{}, Paints: []TotalPaint{}, Adhesives: []TotalGlue{},
		Shipping: TotalShipping{hundredth(s.Prints), hundredth(s.Others), hundredth(s.Mass()), s.AtMost, append([]string{}, kits.PartIDs(s.Unknown)...)},
		Assumes:  t.assumes(), Cautions: cautions(plan.Hazards(t.p.Kit))}
	for _, m := range t.Prints {
		one := TotalMaterial{Material: m.Of.ID, Pieces: m.Pieces, Volume: hundredth(m.Volume), Supports: hundredth(m.Supports), Mass: hundredth(m.Mass), AtMost: m.AtMost, Packages: m.Packages}
		if m.Cost > 0 {
			one.Cost, one.Currency = hundredth(m.Cost), m.Of.Price.Currency
		}
		if m.Takes.High > 0 {
			one.Takes = pointer(band(m.Takes))
		}
		out.Materials = append(out.Materials, one)
	}
	sums, _ := t.Costs()
	for _, c := range sums {
		out.Costs = append(out.Costs, TotalCost{hundredth(c.Buy), hundredth(c.Used), c.Currency})
	}
	for _, x := range t.Paints {
		out.Paints = append(out.Paints, TotalPaint{x.Colour, append([]string{}, kits.PartIDs(x.Parts)...), hundredth(x.Area), hundredth(x.Colours), hundredth(x.Primer), kits.PartIDs(x.Unknown)})
	}
	for _, g := range t.Glues {
		out.Adhesives = append(out.Adhesives, TotalGlue{g.Fixing.ID, g.Joins, g.Unknown, hundredth(g.Area), hundredth(g.ML)})
	}
	return out
}
