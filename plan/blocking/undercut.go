package blocking

import (
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Threads and snaps hold pieces by undercuts that are shallow compared with the
// pieces. No straight move frees them, but turning or bending does, which this
// package does not model. So a stuck group is tried again, ignoring overlaps
// across the direction of travel up to a width that grows step by step, and a
// move found this way states the width.

// undercutSteps are the widths tried, in pitches.
var undercutSteps = []float64{2, 3, 4.5, 6.5, 9}

// coarse is the model with overlaps narrower than some width ignored.
func (m *Model) coarse(width float64) *Model {
	c := *m
	c.Pitch = width
	c.axes, c.some, c.known = nil, nil, nil
	return &c
}

// byUndercut finds what leaves a stuck group past undercuts, and their width in mm.
func (t *disassembler) byUndercut(ctx context.Context, group []int32) ([]int32, []geom.Leg, float64, error) {
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
			a, err := t.m.pastUndercuts(ctx, c, graphs[d].dir, ints(group), width)
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

// pastUndercuts is what is observed along an axis with undercuts up to a width
// ignored.
func (m *Model) pastUndercuts(ctx context.Context, coarse *Model, w geom.Vec, which []int, width float64) (*axis, error) {
	fine := m.axisFor(w, which)
	a, err := coarse.forSome(ctx, w, which)
	if err != nil || fine == nil {
		return a, err
	}
	for _, s := range fine.list {
		if !a.among[s.lo] || !a.among[s.hi] {
			continue
		}
		for _, bit := range []uint8{upper, under} {
			if s.bits&bit == 0 || a.bits(int(s.lo), int(s.hi))&bit != 0 {
				continue
			}
			rim, err := m.atRim(ctx, fine, s.lo, s.hi, bit, width)
			if err != nil {
				return nil, err
			}
			if !rim {
				a.add(pairObservation{lo: s.lo, hi: s.hi, bits: withClash(bit), near: -1})
			}
		}
	}
	return a, nil
}

// shallow is the greatest width of an undercut that is ignored: a fraction of the
// second smallest side of a group's smallest piece, and of the thickness of the
// thinnest. Otherwise thin bars would pass for undercuts.
func (t *disassembler) shallow(group []int32) float64 {
	least := math.Inf(1)
	for _, p := range group {
		m := t.m.Pieces[p]
		s := m.Size()
		slices.Sort(s[:])
		least = min(least, s[1]*undercutOfSide, thickness(m)*undercutOfWall)
	}
	return least
}

// thickness is the thickness in mm of a plate with the volume and surface of a
// piece.
func thickness(m *mesh.Mesh) float64 { return 2 * m.Volume / max(m.Area, 1e-300) }

const (
	undercutOfSide = 1.0 / 6
	undercutOfWall = 0.75
)

// Undercut is a direction in which a piece leaves past undercuts.
type Undercut struct {
	Direction int     // of the model
	Width     float64 // mm
	Past      []int   // the pieces whose undercuts it passes
}

// Undercuts lists those of some directions in which a piece leaves others past
// undercuts, at the smallest width that allows any.
func (m *Model) Undercuts(ctx context.Context, piece int, others, directions []int) ([]Undercut, error) {
	which := append([]int{piece}, others...)
	group := make([]int32, len(which))
	for i, p := range which {
		group[i] = int32(p)
	}
	most := newDisassembler(m, false).shallow(group)
	for _, step := range undercutSteps {
		width := step * m.Pitch
		if width > most {
			break
		}
		c := m.coarse(width)
		var list []Undercut
		for _, d := range directions {
			a, err := m.pastUndercuts(ctx, c, m.axes[d/2].dir, which, width)
			if err != nil {
				return nil, err
			}
			if past, free := m.past(a, piece, d, others); free {
				list = append(list, Undercut{d, width, past})
			}
		}
		if len(list) > 0 {
			return list, nil
		}
	}
	return nil, nil
}

// past lists the pieces that block a piece along direction d but not in the
// coarse view; free reports that none is left there.
func (m *Model) past(coarse *axis, piece, d int, others []int) (list []int, free bool) {
	for _, o := range others {
		plain, _ := sides(piece, o, d)
		if coarse.bits(piece, o)&plain != 0 {
			return nil, false
		}
		if m.axes[d/2].bits(piece, o)&plain != 0 {
			list = append(list, o)
		}
	}
	return list, true
}
