package page

import (
	"slices"

	"dryfit/plan"
)

// stuck marks the pieces that a fault is about, and with each what is in its way.
func (m *Model) stuck(p *plan.Project) {
	at := map[string]int{}
	for i, pc := range p.Kit.Pieces {
		at[pc.ID] = i
	}
	for _, f := range p.Findings {
		if f.Grade != plan.Fault {
			continue
		}
		names := f.Pieces
		if len(names) == 0 {
			names = []string{f.Piece}
		}
		for _, n := range names {
			if i, known := at[n]; known && m.Pieces[i].Stuck == "" {
				m.Pieces[i].Stuck, m.Pieces[i].By = f.Kind, inTheWay(f, i, at)
			}
		}
	}
}

// inTheWay lists the other pieces that a finding has in the way of a piece.
func inTheWay(f plan.Finding, piece int, at map[string]int) []int {
	var list []int
	for _, b := range f.Because {
		for _, n := range b.InTheWay {
			if i, known := at[n]; known && i != piece && !slices.Contains(list, i) {
				list = append(list, i)
			}
		}
	}
	return list
}
