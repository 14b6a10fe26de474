package totals

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// Paint by airbrush (ours): a coat is 0.025 mm dry, paint is 30 % solids, and half of it
// goes beside the part, so that a millilitre covers 60 cm2 once. Brushes waste less,
// cans more.
const (
	CoatsOfColour = 2
	CoatsOfPrimer = 1
	DryFilm       = 0.0025 // cm
	Solids        = 0.30
	OnPart        = 0.50
)

// millilitres is the paint for an area in cm2.
func millilitres(area float64, coats int) float64 {
	return area * float64(coats) * DryFilm / Solids / OnPart
}

// Paint is what is painted in one colour.
type Paint struct {
	Colour  string // as written; empty for parts that state none
	Parts   []*kits.Part
	Area    float64      // cm2, the whole surface of the parts: an upper bound
	Colours float64      // ml
	Primer  float64      // ml
	Unknown []*kits.Part // with neither mesh nor size
}

// paints lists the paints of the parts in the model, in the order of the kit; what states
// no colour comes last.
func paints(p *plan.Project) []Paint {
	var list []Paint
	for _, part := range p.Kit.Parts {
		if !part.InModel() || !part.Painted() {
			continue
		}
		i := slices.IndexFunc(list, func(x Paint) bool { return x.Colour == part.Colour })
		if i < 0 {
			i, list = len(list), append(list, Paint{Colour: part.Colour})
		}
		list[i].add(p, part)
	}
	for i := range list {
		list[i].Colours, list[i].Primer = millilitres(list[i].Area, CoatsOfColour), millilitres(list[i].Area, CoatsOfPrimer)
	}
	slices.SortStableFunc(list, func(a, b Paint) int {
		switch {
		case a.Colour == "" && b.Colour != "":
			return 1
		case b.Colour == "" && a.Colour != "":
			return -1
		}
		return 0
	})
	return list
}

func (x *Paint) add(p *plan.Project, part *kits.Part) {
	x.Parts = append(x.Parts, part)
	area, known := surface(p, part)
	if !known {
		x.Unknown = append(x.Unknown, part)
	}
	x.Area += area / 100
}

// surface is the surface of all copies of a part in mm2: of their meshes, or of the box
// of its size.
func surface(p *plan.Project, part *kits.Part) (area float64, known bool) {
	for _, piece := range p.Kit.Copies(part) {
		switch m := p.Mesh(piece); {
		case m != nil:
			area += m.Area
		case part.Size != nil:
			s := part.Size.XYZ
			area += 2 * (s[0]*s[1] + s[1]*s[2] + s[2]*s[0])
		default:
			return area, false
		}
	}
	return area, true
}
