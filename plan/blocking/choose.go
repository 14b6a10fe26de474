package blocking

import (
	"cmp"
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// next chooses what leaves a group next, and how. It prefers, in this order: a
// piece that can leave in many directions and keeps the rest connected; a piece
// with what would be left hanging without it; one that can hardly leave; a group;
// a piece along several legs.
func (t *disassembler) next(ctx context.Context, group []int32) ([]int32, []geom.Leg, error) {
	if off, d := t.single(group); off != nil {
		return off, t.leg(d), nil
	}
	if off, _ := t.group(group); off != nil {
		return off, t.leg(t.wayOf(off)), nil
	}
	more, err := t.ownAxes(ctx, group)
	if err != nil {
		return nil, nil, err
	}
	if more {
		return t.next(ctx, group)
	}
	return t.byLegs(ctx, group)
}

func (t *disassembler) leg(d int) []geom.Leg {
	return []geom.Leg{{Toward: t.graphs[d].dir, Distance: math.Inf(1)}}
}

// manyWays is the number of free directions from which a piece counts as open.
const manyWays = 3

// candidate is a piece that could leave on its own.
type candidate struct {
	piece int32
	ways  int
	// covered reports that it can hardly leave, and lies within the outline of
	// another that can leave on its own, such as an engine in its cowling: the
	// cover comes off first.
	covered bool
}

// findCovered marks the candidates that others cover, seen along the direction of
// leaving.
func (t *disassembler) findCovered(list []candidate) {
	for i := range list {
		a := &list[i]
		if a.ways >= manyWays {
			continue
		}
		boxes := t.outlines(t.graphs[t.bestWay(a.piece)].dir)
		for k := range list {
			outer := list[k].piece
			if k != i && list[k].ways < manyWays && t.room[outer] > t.room[a.piece] && boxes[outer].contains(&boxes[a.piece]) {
				a.covered = true
				break
			}
		}
	}
}

// single finds a piece that can leave on its own, or with what hangs on it.
func (t *disassembler) single(group []int32) ([]int32, int) {
	var list []candidate
	for _, p := range group {
		ways := 0
		for d := range t.graphs {
			if t.count[d][p] == 0 {
				ways++
			}
		}
		if ways > 0 {
			list = append(list, candidate{piece: p, ways: ways})
		}
	}
	t.findCovered(list)
	slices.SortFunc(list, func(a, b candidate) int {
		openA, openB := a.ways >= manyWays, b.ways >= manyWays
		switch {
		case openA != openB:
			return b.ways - a.ways
		case a.covered != b.covered:
			if a.covered {
				return 1
			}
			return -1
		}
		return cmp.Or(cmp.Compare(t.room[a.piece], t.room[b.piece]), cmp.Compare(a.piece, b.piece))
	})
	var hanging []int32
	hangingWay := -1
	for _, c := range list {
		left := t.leftHanging(c.piece, group)
		if len(left) == 0 {
			return []int32{c.piece}, t.bestWay(c.piece)
		}
		if hanging != nil {
			continue
		}
		off := append([]int32{c.piece}, left...)
		if d := t.wayOf(off); d >= 0 {
			hanging, hangingWay = off, d
		}
	}
	if hanging != nil {
		return hanging, hangingWay
	}
	if len(list) > 0 {
		return []int32{list[0].piece}, t.bestWay(list[0].piece)
	}
	return nil, -1
}

// bestWay is the direction in the middle of those in which a piece is free: straight
// off what it lies against.
func (t *disassembler) bestWay(p int32) int {
	var free []int
	for d := range t.graphs {
		if t.count[d][p] == 0 {
			free = append(free, d)
		}
	}
	return t.middle(free)
}

// wayOf is the middle one of the directions in which pieces of the group can
// leave together, or -1.
func (t *disassembler) wayOf(off []int32) int {
	t.marks++
	for _, p := range off {
		t.mark[p] = t.marks
	}
	var free []int
	for d := range t.graphs {
		if t.clear(off, d) {
			free = append(free, d)
		}
	}
	return t.middle(free)
}

// clear reports whether only marked pieces are in the way of marked ones.
func (t *disassembler) clear(off []int32, d int) bool {
	for _, p := range off {
		for _, b := range t.graphs[d].blockers(p) {
			if t.in[b] && t.mark[b] != t.marks {
				return false
			}
		}
	}
	return true
}

// plainer is how strongly a direction along an axis of the model is preferred.
const plainer = 1.3

// middle is the direction nearest to the sum of some, or one along an axis of the
// model that is nearly as close. Ties go to the first; -1 if there are none.
func (t *disassembler) middle(free []int) int {
	var sum geom.Vec
	for _, d := range free {
		sum = sum.Plus(t.graphs[d].dir)
	}
	best, most := -1, math.Inf(-1)
	for _, d := range free {
		near := sum.Dot(t.graphs[d].dir)
		if d < 2*mainAxes {
			near *= plainer
		}
		if near > most+1e-9 {
			best, most = d, near
		}
	}
	return best
}

// group finds the smallest set of pieces that can leave together, preferably a
// connected one.
func (t *disassembler) group(group []int32) ([]int32, int) {
	together := map[*int32]bool{}
	holds := func(c []int32) bool {
		h, known := together[&c[0]]
		if !known {
			h = t.together(c)
			together[&c[0]] = h
		}
		return h
	}
	better := func(a, b []int32) bool {
		if ha, hb := holds(a), holds(b); ha != hb {
			return ha
		}
		if len(a) != len(b) {
			return len(a) < len(b)
		}
		return slices.Compare(a, b) < 0
	}
	var best []int32
	way := -1
	for d := range t.graphs {
		c := t.graphs[d].sink(group, t.in, better)
		if c == nil {
			continue
		}
		slices.Sort(c)
		if best == nil || better(c, best) {
			best, way = c, d
		}
	}
	return best, way
}

// ownAxes measures a stuck group along the axes that its own shapes suggest. It
// reports whether there were any.
func (t *disassembler) ownAxes(ctx context.Context, group []int32) (bool, error) {
	if t.looked++; t.looked > maxLooks {
		return false, nil
	}
	own, err := ownAxes(t.m.Pieces, ints(group), 0, stuckAxes)
	if err != nil {
		return false, err
	}
	known := make([]geom.Vec, len(t.graphs)/2)
	for i := range known {
		known[i] = t.graphs[2*i].dir
	}
	fresh := addAxes(slices.Clone(known), own...)[len(known):]
	for _, w := range fresh {
		a, err := t.m.forSome(ctx, w, ints(group))
		if err != nil {
			return false, err
		}
		t.addAxis(a)
	}
	if len(fresh) > 0 {
		t.recount(group)
	}
	return len(fresh) > 0, nil
}

// maxLooks bounds the groups that are measured along their own axes.
const maxLooks = 500
