package printing

import "dryfit/plan"

// Ready is when a step of the build has its pieces, counted from the start of the first
// plate.
type Ready struct {
	Step int  // in the constraints
	Own  Band // all pieces that the step works on are printed
	All  Band // and those of all steps that must come before it
}

// Ready lists the steps in build order. Only printing counts, not the work of
// earlier steps, nor washing, curing or painting. A piece that is not on a plate,
// because it is bought or fits no printer, delays no step.
func (p *Plan) Ready(rep *plan.Project) []Ready {
	done := map[string]Band{}
	for _, plate := range p.Plates {
		for _, x := range plate.Pieces {
			done[x.Piece.ID] = plate.Ends
		}
	}
	before := make([][]int, len(rep.Constraints.Steps))
	for _, n := range rep.Constraints.Needs {
		before[n.After] = append(before[n.After], n.Before)
	}
	all := make([]Band, len(rep.Constraints.Steps))
	var list []Ready
	for _, v := range rep.Draft().Order {
		r := Ready{Step: v}
		for _, i := range rep.Constraints.Steps[v].InHand() {
			r.Own = later(r.Own, done[rep.Kit.Pieces[i].ID])
		}
		r.All = r.Own
		for _, u := range before[v] {
			r.All = later(r.All, all[u])
		}
		all[v] = r.All
		list = append(list, r)
	}
	return list
}

// later is when both of two times have come.
func later(a, b Band) Band { return Band{max(a.Low, b.Low), max(a.High, b.High)} }
