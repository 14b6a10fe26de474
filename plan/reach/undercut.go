package reach

import (
	"context"
	"slices"
)

// Threads and snaps hold pieces by undercuts that are shallow beside the pieces
// themselves. No straight move frees them, but turning or bending does, which is
// outside of what is looked at here. So a group that is stuck is looked at once
// more, with overlaps across the direction of travel passed over up to a width that
// grows step by step, and a move found so says how wide.

// undercutSteps are the widths tried, in pitches.
var undercutSteps = []float64{2, 3, 4.5, 6.5, 9}

// coarse is the model with everything narrower than some width passed over.
func (m *Model) coarse(width float64) *Model {
	c := *m
	c.Pitch = width
	c.axes, c.some, c.known = nil, nil, nil
	return &c
}

// byUndercut finds what leaves a stuck group past undercuts, and their width in mm.
func (t *taker) byUndercut(ctx context.Context, group []int32) ([]int32, []Leg, float64, error) {
	graphs, count := t.graphs, t.count
	defer func() { t.graphs, t.count = graphs, count; t.recount(group) }()
	for _, step := range undercutSteps {
		width := step * t.m.Pitch
		if width > t.shallow(group) {
			break
		}
		c := t.m.coarse(width)
		t.graphs, t.count = nil, nil
		for d := 0; d < len(graphs); d += 2 {
			a, err := c.forSome(ctx, graphs[d].dir, ints(group))
			if err != nil {
				return nil, nil, 0, err
			}
			t.addAxis(a)
		}
		t.recount(group)
		off, d := t.single(group)
		if off == nil {
			off, d = t.group(group)
		}
		if off != nil {
			return off, t.leg(d), width, nil
		}
	}
	return nil, nil, 0, nil
}

// shallow is the greatest width of an undercut that is passed over: a part of the
// second smallest side of the smallest piece of a group.
func (t *taker) shallow(group []int32) float64 {
	least := 0.0
	for i, p := range group {
		s := t.m.Pieces[p].Size()
		slices.Sort(s[:])
		if i == 0 || s[1] < least {
			least = s[1]
		}
	}
	return least / undercutPart
}

const undercutPart = 6
