package page

import (
	"slices"

	"dryfit/plan"
)

// stuck marks the pieces that a fault is about, and with each the others to show.
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
				m.Pieces[i].Stuck, m.Pieces[i].By = f.Kind, others(p, f, i, at)
			}
		}
	}
}

// others lists the other pieces that a finding names; for a piece that cannot be
// fitted, only those in its way.
func others(p *plan.Project, f plan.Finding, piece int, at map[string]int) []int {
	names := slices.Clone(f.Pieces)
	for _, b := range f.Because {
		names = append(names, b.Pieces...)
	}
	var list []int
	for _, n := range names {
		if i, known := at[n]; known && i != piece && !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	switch f.Kind {
	case plan.Trapped, plan.Unreachable, plan.Blocked:
		blockers := blockersOf(p.Constraints, piece)
		list = slices.DeleteFunc(list, func(i int) bool { return !slices.Contains(blockers, i) })
	}
	return list
}

// blockersOf lists the pieces that at some time block a piece on any of its
// routes.
func blockersOf(r *plan.Constraints, piece int) []int {
	var list []int
	for _, a := range r.Access {
		if a.Piece != piece {
			continue
		}
		for _, route := range a.Routes {
			for _, b := range route.Blockers {
				list = append(list, b.Piece)
			}
		}
		for _, b := range a.Barred {
			list = append(list, b.Other)
		}
	}
	return list
}
