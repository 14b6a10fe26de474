package blocking

import (
	"context"
	"iter"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// next chooses what leaves a group next, and how. It prefers, in this order: a
// piece that can leave in many directions and keeps the rest connected; a piece
// with what would be left hanging without it; one that can hardly leave; a group;
// a piece along several legs.
func (t *disassembler) next(ctx context.Context, group []int32) ([]int32, []geom.Leg, error) {
	if off, d := t.single(); off != nil {
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

// single finds a piece that can leave on its own, or with what hangs on it: the smallest
// of those with many ways, then of those that no other covers.
func (t *disassembler) single() ([]int32, int) {
	first := int32(-1)
	var hanging []int32
	hangingWay := -1
	for p := range t.bySize() {
		if first < 0 {
			first = p
		}
		left := t.leftHanging(p)
		if len(left) == 0 {
			return []int32{p}, t.bestWay(p)
		}
		if hanging != nil {
			continue
		}
		off := append([]int32{p}, left...)
		if d := t.wayOf(off); d >= 0 {
			hanging, hangingWay = off, d
		}
	}
	if hanging != nil {
		return hanging, hangingWay
	}
	if first >= 0 {
		return []int32{first}, t.bestWay(first)
	}
	return nil, -1
}

// bySize goes through the pieces of the group that can leave on their own: those with many
// ways, then the others, and last those that are covered; each by size.
func (t *disassembler) bySize() iter.Seq[int32] {
	return func(yield func(int32) bool) {
		var few, covered []int32
		for _, p := range t.sized {
			switch {
			case t.ways[p] >= manyWays:
				if !yield(p) {
					return
				}
			case t.ways[p] > 0:
				few = append(few, p)
			}
		}
		for _, p := range few {
			if t.isCovered(p, few) {
				covered = append(covered, p)
			} else if !yield(p) {
				return
			}
		}
		for _, p := range covered {
			if !yield(p) {
				return
			}
		}
	}
}

// isCovered reports whether a piece lies within the outline of a larger one of some that
// can hardly leave either, seen along its way, such as an engine in its cowling: the cover
// comes off first.
func (t *disassembler) isCovered(p int32, few []int32) bool {
	d := t.bestWay(p)
	boxes := t.outlines(t.graphs[d].dir)
	covers := func(q int32) bool { return t.room[q] > t.room[p] && boxes[q].contains(&boxes[p]) }
	// What covered it before mostly still does.
	if q := t.cover[p]; q >= 0 && t.in[q] && 0 < t.ways[q] && t.ways[q] < manyWays && covers(q) {
		return true
	}
	t.cover[p] = -1
	for _, q := range slices.Backward(few) {
		if t.room[q] <= t.room[p] {
			break
		}
		if covers(q) {
			t.cover[p] = q
			return true
		}
	}
	return false
}

// bestWay is the direction in the middle of those in which a piece is free: straight
// off what it lies against.
func (t *disassembler) bestWay(p int32) int {
	if b := t.best[p]; b.ways == t.ways[p] {
		return b.way
	}
	var free []int
	for d := range t.graphs {
		if t.count[d][p] == 0 {
			free = append(free, d)
		}
	}
	t.best[p] = bestWay{t.ways[p], t.middle(free)}
	return t.best[p].way
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
