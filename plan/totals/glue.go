package totals

import (
	"dryfit/kits"
	"dryfit/plan"
)

// BondLine is the height of glue in cm over a glued face: 0.1 mm between the faces
// (common practice: 0.05 to 0.2 mm) and as much again that is squeezed out or stays on
// the mixing card (ours).
const BondLine = 0.02

// Glue is what one adhesive joins.
type Glue struct {
	Fixing  *kits.Fixing
	Joins   int     // with copies of a part as one
	Area    float64 // cm2 of the faces that are glued
	ML      float64
	Unknown int // joins whose faces are not known: without meshes, or that only come near
}

// glues lists the adhesives of a kit in the order of its fixings. The faces of a join are
// those where the pieces that it names touch.
func glues(p *plan.Project) []Glue {
	touching := map[[2]int]float64{}
	if g := p.Constraints.Geometry; g != nil {
		for _, t := range g.Touching {
			touching[[2]int{t.A, t.B}] += t.Contact
			touching[[2]int{t.B, t.A}] += t.Contact
		}
	}
	var list []Glue
	for _, f := range p.Kit.Fixings {
		g := Glue{Fixing: f}
		for _, j := range p.Kit.Joins {
			if f.Kind == kits.Glue && j.Fixing == f {
				g.add(j, touching)
			}
		}
		if g.Joins > 0 {
			g.ML = g.Area * BondLine
			list = append(list, g)
		}
	}
	return list
}

func (g *Glue) add(j *kits.Join, touching map[[2]int]float64) {
	pieces, onto := j.Pieces, j.Onto
	if j.IsClose() {
		pieces, onto = j.Pieces[:1], j.Pieces[1:]
	}
	area := 0.0
	for _, a := range pieces {
		for _, b := range onto {
			area += touching[[2]int{a, b}]
		}
	}
	g.Joins++
	g.Area += area / 100
	if area == 0 {
		g.Unknown++
	}
}
