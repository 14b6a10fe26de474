// Package totals sums up what a kit takes: material to print with, hours, paint, glue and
// the mass to ship. Ratios that turn measures into amounts are stated beside their values.
//
// They are estimates to buy by. The supplier's data sheets come first.
package totals

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/printing"
)

// Waste is the share of a material, beyond what is in prints and supports, that is
// washed off, stays in vat and filters, or is spent on first lines and purging (ours;
// common practice is 5 to 15 % for resin, 3 to 10 % for filament).
var Waste = map[string]float64{kits.Resin: 0.10, kits.Filament: 0.05}

// Packing is the share that packing adds to the mass of what is shipped (ours).
const Packing = 0.20

// Totals are all that a kit takes.
type Totals struct {
	Prints   []Material   // in the order of the kit's materials
	Unknown  []*kits.Part // printed, with neither mesh nor size
	Paints   []Paint
	Glues    []Glue
	Shipping Shipping
}

// Material is what is printed of one material: the model, tooling and spares.
type Material struct {
	Of       *kits.Material
	Pieces   int
	Volume   float64       // cm3 of the pieces
	Supports float64       // cm3
	Mass     float64       // g to have, with supports and waste
	AtMost   bool          // some pieces are known by their size only
	Packages int           // to buy; 0 if the kit does not say what is in one
	Cost     float64       // of those packages; 0 if the kit states no price
	Used     float64       // the share of that cost that is used up
	Takes    printing.Band // on printers, one plate after the other; 0 without printers
}

// Shipping is the finished set of parts, unbuilt.
type Shipping struct {
	Prints  float64      // g, without supports
	AtMost  bool         // some prints are known by their size only
	Others  float64      // g of bought and made parts, as the kit states them
	Unknown []*kits.Part // whose mass is not known
}

// Mass is the mass of the parcel in g.
func (s Shipping) Mass() float64 { return (s.Prints + s.Others) * (1 + Packing) }

// Make sums up a project. Pieces are of the material of the plate that they are on in the
// printing plan, which is nil for a kit without printers; what is on no plate is of that
// which the kit states. The error says that there is too much to print.
func Make(p *plan.Project, made *printing.Plan) (*Totals, error) {
	ask, missing, err := printing.Ask(p)
	if err != nil {
		return nil, err
	}
	t := &Totals{Unknown: missing, Paints: paints(p), Glues: glues(p)}
	s := sums{}
	plated := s.plates(made)
	for _, part := range ask.Parts {
		left := len(part.Pieces) - plated[part.Of]
		switch {
		case left <= 0:
		case part.Of.Material == nil:
			t.Unknown = append(t.Unknown, part.Of)
		default:
			s.of(part.Of.Material).add(part, left, 0)
		}
	}
	for _, m := range p.Kit.Materials {
		if sum := s[m]; sum != nil {
			sum.complete()
			t.Prints = append(t.Prints, *sum)
			t.Shipping.Prints += sum.Volume * m.Density
			t.Shipping.AtMost = t.Shipping.AtMost || sum.AtMost
		}
	}
	t.Shipping.hardware(p.Kit)
	t.Shipping.Unknown = append(t.Shipping.Unknown, t.Unknown...)
	return t, nil
}

// sums are the sums so far, by material.
type sums map[*kits.Material]*Material

func (s sums) of(m *kits.Material) *Material {
	if s[m] == nil {
		s[m] = &Material{Of: m}
	}
	return s[m]
}

// plates adds what is on the plates of a plan, if there is one, and tells how many pieces
// of each part those are.
func (s sums) plates(made *printing.Plan) map[*kits.Part]int {
	plated := map[*kits.Part]int{}
	if made == nil {
		return plated
	}
	for _, plate := range made.Plates {
		m := s.of(plate.Material)
		m.Takes = m.Takes.Plus(plate.Takes)
		for _, x := range plate.Pieces {
			m.add(x.Part, 1, x.Setting.Printed)
			plated[x.Part.Of]++
		}
	}
	return plated
}

// add adds so many pieces of a part, each with supports in mm3.
func (m *Material) add(part *printing.Part, pieces int, supports float64) {
	n := float64(pieces)
	m.Pieces += pieces
	m.Volume += n * part.Material() / 1000
	m.Supports += n * supports / 1000
	m.AtMost = m.AtMost || part.BySize
}

// complete works out what follows from the sums.
func (m *Material) complete() {
	m.Mass = (m.Volume + m.Supports) * m.Of.Density * (1 + Waste[m.Of.Process])
	if m.Of.Package > 0 {
		m.Packages = int(math.Ceil(m.Mass / m.Of.Package))
		if m.Of.Price != nil {
			m.Cost = float64(m.Packages) * m.Of.Price.Amount
			m.Used = m.Mass / m.Of.Package * m.Of.Price.Amount
		}
	}
}

// hardware adds what is bought or made.
func (s *Shipping) hardware(k *kits.Kit) {
	for _, p := range k.Parts {
		switch {
		case p.ToPrint() || !p.InModel():
		case p.Mass == 0:
			s.Unknown = append(s.Unknown, p)
		default:
			spares, _ := bill.Spares(p)
			s.Others += p.Mass * float64(p.Quantity+spares)
		}
	}
}

// Cost is a sum of money.
type Cost struct {
	Buy, Used float64 // whole packages, and the share of them that is used up
	Currency  string
}

// Costs sums up the costs of materials, by currency; unpriced are the materials without a
// price.
func (t *Totals) Costs() (list []Cost, unpriced []*kits.Material) {
	for _, m := range t.Prints {
		if m.Of.Price == nil {
			unpriced = append(unpriced, m.Of)
			continue
		}
		i := slices.IndexFunc(list, func(c Cost) bool { return c.Currency == m.Of.Price.Currency })
		if i < 0 {
			i, list = len(list), append(list, Cost{Currency: m.Of.Price.Currency})
		}
		list[i].Buy += m.Cost
		list[i].Used += m.Used
	}
	slices.SortFunc(list, func(a, b Cost) int { return cmp.Compare(a.Currency, b.Currency) })
	return list, unpriced
}
