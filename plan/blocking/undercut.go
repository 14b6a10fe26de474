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
// package does not model. So a stuck group is tried again, ignoring undercuts up to a
// width that grows step by step, and a move found this way states the width.

// undercutSteps are the widths tried, in pitches.
var undercutSteps = []float64{2, 3, 4.5, 6.5, 9}

// byUndercut finds what leaves a stuck group past undercuts, and their width in mm.
func (t *disassembler) byUndercut(ctx context.Context, group []int32) ([]int32, []geom.Leg, float64, error) {
	graphs, count := t.graphs, t.count
	defer func() { t.graphs, t.count = graphs, count; t.recount(group) }()
	for _, step := range undercutSteps {
		width := step * t.m.Pitch
		if width > t.shallow(group) {
			break
		}
		t.graphs, t.count = nil, nil
		for d := 0; d < len(graphs); d += 2 {
			t.m.tell("looking for undercuts", float64(d)/float64(len(graphs)))
			a, err := t.m.pastUndercuts(ctx, t.m.axisFor(graphs[d].dir, ints(group)), ints(group), width)
			if err != nil {
				return nil, nil, 0, err
			}
			t.addAxis(a)
		}
		t.recount(group)
		off, d := t.single()
		if off == nil {
			off, d = t.group(group)
		}
		if off != nil {
			return off, t.leg(d), width, nil
		}
	}
	return nil, nil, 0, nil
}

// pastUndercuts is what was observed of some pieces along an axis, without
// undercuts up to a width.
func (m *Model) pastUndercuts(ctx context.Context, x *axis, which []int, width float64) (*axis, error) {
	in := make([]bool, len(m.Pieces))
	for _, p := range which {
		in[p] = true
	}
	wide, err := m.wide(ctx, x, which)
	if err != nil {
		return nil, err
	}
	out := &axis{dir: x.dir, among: in}
	for _, s := range x.list {
		if !in[s.lo] || !in[s.hi] || s.bits == 0 {
			continue
		}
		left := uint8(0)
		for _, bit := range []uint8{upper, under} {
			if s.bits&bit == 0 {
				continue
			}
			u := passage{}
			if wide.bits(int(s.lo), int(s.hi))&bit == 0 {
				if u, err = m.passageOf(ctx, x, s.lo, s.hi, bit); err != nil {
					return nil, err
				}
			}
			if !u.rim || u.width > width {
				left |= bit
			}
		}
		if left != 0 {
			out.list = append(out.list, pairObservation{lo: s.lo, hi: s.hi, bits: withClash(left), near: -1})
		}
	}
	return out, nil
}

// wide is what some pieces look like along an axis with lines twice as far apart as
// the widest undercut: what blocks there is wider than any.
func (m *Model) wide(ctx context.Context, x *axis, which []int) (*axis, error) {
	if m.coarse == nil {
		c := *m
		c.Pitch = 2 * undercutSteps[len(undercutSteps)-1] * m.Pitch
		c.axes, c.some, c.known = nil, nil, nil
		m.coarse = &c
	}
	return m.coarse.forSome(ctx, x.dir, which)
}

// passageKey names a pair that blocks each other along an axis.
type passageKey struct {
	x      *axis
	lo, hi int32
	bit    uint8
}

// passageOf measures a passage once.
func (m *Model) passageOf(ctx context.Context, x *axis, lo, hi int32, bit uint8) (passage, error) {
	key := passageKey{x, lo, hi, bit}
	if u, known := m.passages[key]; known {
		return u, nil
	}
	u, err := m.passage(ctx, x, lo, hi, bit)
	if err == nil {
		if m.passages == nil {
			m.passages = map[passageKey]passage{}
		}
		m.passages[key] = u
	}
	return u, err
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
		var list []Undercut
		for _, d := range directions {
			a, err := m.pastUndercuts(ctx, &m.axes[d/2], which, width)
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
// view past undercuts; free reports that none is left there.
func (m *Model) past(coarse *axis, piece, d int, others []int) (list []int, free bool) {
	for _, o := range others {
		plain := side(piece, o, d)
		if coarse.bits(piece, o)&plain != 0 {
			return nil, false
		}
		if m.axes[d/2].bits(piece, o)&plain != 0 {
			list = append(list, o)
		}
	}
	return list, true
}
