package project

import (
	"context"
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/blocking"
	"dryfit/plan/explain"
)

// measured checks a kit against its meshes.
func measured(ctx context.Context, k *kits.Kit, o Options) (*plan.Project, error) {
	s, toward, err := openKit(k, o)
	if err != nil {
		return nil, err
	}
	if err := s.ExamineWhile(ctx, func() error { return s.measure(ctx, toward) }); err != nil {
		return nil, err
	}
	g := s.Geometry()
	openings, err := s.openingFindings(ctx)
	if err != nil {
		return nil, err
	}
	g.Findings = slices.Concat(s.unmatched, openings, s.MeshFindings(false))
	p, err := explain.CheckMeasured(k, g)
	if err != nil {
		return nil, err
	}
	if p, err = s.furtherWays(ctx, g, p); err != nil {
		return nil, err
	}
	g.Further = func(ctx context.Context, stall plan.Stall) (bool, error) {
		defer s.Store()
		return s.legs(ctx, stall, g)
	}
	p.Meshes = &s.Collection
	s.Store()
	return p, nil
}

// Geometry is the measurements as the plain numbers that a plan reads.
func (s *Survey) Geometry() *plan.Geometry {
	m := s.Model
	g := &plan.Geometry{
		Directions: m.Directions, InTheWay: m.InTheWay(), Resolution: blocking.Found * m.Pitch, Near: m.Touch,
		Legs: map[int][]plan.Legs{}, Searched: map[int]bool{}, Undercuts: map[int][]plan.Undercut{}, Hit: m.Distance,
	}
	for _, p := range m.Pieces {
		g.Measured = append(g.Measured, p.Len() > 0)
		g.Sizes = append(g.Sizes, p.Size())
	}
	for _, p := range m.Pairs {
		if p.Depth > 0 {
			g.Clashes = append(g.Clashes, plan.Clash{A: p.A, B: p.B, Depth: p.Depth, Volume: p.Volume})
		}
		g.Touching = append(g.Touching, plan.Touch{A: p.A, B: p.B, Contact: p.Contact, Gap: p.Gap})
	}
	return g
}

// maxSearches bounds the pieces for which further ways are searched: a search
// takes seconds.
const maxSearches = 24

// furtherWays searches for ways of several legs, then for ways past undercuts,
// for the pieces with no straight way left, and checks again with those it finds.
func (s *Survey) furtherWays(ctx context.Context, g *plan.Geometry, p *plan.Project) (*plan.Project, error) {
	for _, search := range []func(context.Context, plan.Stall, *plan.Geometry) (bool, error){s.legs, s.undercuts} {
		tried := map[int]bool{}
		for {
			found, err := s.searchAll(p, tried, func(stall plan.Stall) (bool, error) { return search(ctx, stall, g) })
			if err != nil {
				return nil, err
			}
			if !found {
				break
			}
			if p, err = explain.CheckMeasured(s.kit, g); err != nil {
				return nil, err
			}
		}
	}
	if len(p.Stalled()) > 0 {
		return explain.CheckMeasured(s.kit, g) // it says more of a piece that was searched in vain
	}
	return p, nil
}

// searchAll searches for every stalled piece not yet tried, and reports whether
// anything was found.
func (s *Survey) searchAll(p *plan.Project, tried map[int]bool, search func(plan.Stall) (bool, error)) (bool, error) {
	any := false
	for _, stall := range p.Stalled() {
		if tried[stall.Piece] {
			continue
		}
		if len(tried) == maxSearches {
			s.options.warn(fmt.Sprintf("many pieces are blocked; further ways were searched for the first %d only; fix those and check again", maxSearches))
			break
		}
		s.options.tell("looking for further ways", float64(len(tried))/float64(len(tried)+len(p.Stalled())))
		tried[stall.Piece] = true
		found, err := search(stall)
		if err != nil {
			return false, err
		}
		any = any || found
	}
	return any, nil
}

// legs searches for a way of several legs, and reports whether there is one.
func (s *Survey) legs(ctx context.Context, stall plan.Stall, g *plan.Geometry) (bool, error) {
	legs, blockers, err := s.Model.Legs(ctx, stall.Piece, stall.Others)
	g.Searched[stall.Piece] = true
	if err != nil || legs == nil {
		return false, err
	}
	g.Legs[stall.Piece] = append(g.Legs[stall.Piece], plan.Legs{Legs: legs, InTheWay: narrow(blockers)})
	return true, nil
}

// undercuts searches for directions past undercuts, and reports whether there are any.
func (s *Survey) undercuts(ctx context.Context, stall plan.Stall, g *plan.Geometry) (bool, error) {
	list, err := s.Model.Undercuts(ctx, stall.Piece, stall.Others, stall.Directions)
	for _, u := range list {
		g.Undercuts[stall.Piece] = append(g.Undercuts[stall.Piece], plan.Undercut{Direction: u.Direction, Width: u.Width, Past: narrow(u.Past)})
	}
	return len(list) > 0, err
}

func narrow(pieces []int) []int32 {
	var list []int32
	for _, p := range pieces {
		list = append(list, int32(p))
	}
	return list
}
