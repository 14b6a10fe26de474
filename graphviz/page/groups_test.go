package page

import (
	"slices"
	"testing"

	"dryfit/plan"
	"dryfit/plan/project/projecttest"
)

// What the page is told of each step gives the pieces in place again, and takes few
// numbers: none is written for each step anew.
func TestGroups(t *testing.T) {
	p := projecttest.Load(t)
	q := p.Draft()
	g := newGroups(len(p.Kit.Pieces))
	there := map[int][]int{} // after each step
	written, whole := 0, 0
	for _, mv := range q.Moves() {
		number := q.Place[mv.Step]
		after, still := g.follow(number, mv)
		got := append(slices.Clone(there[after]), still...)
		if want := slices.Sorted(slices.Values(mv.Still)); !slices.Equal(slices.Sorted(slices.Values(got)), want) {
			t.Fatalf("step %d: %v are in place, want %v", number, got, want)
		}
		for _, x := range mv.Movers {
			got = append(got, x.Pieces...)
		}
		slices.Sort(got)
		there[number] = slices.Compact(got)
		written += len(still)
		whole += len(mv.Still)
	}
	if written > len(p.Kit.Pieces) || whole < 10*written {
		t.Errorf("%d numbers are written for %d", written, whole)
	}
}

// Pieces that were taken off again are not in place: then all are written.
func TestGroupsShrink(t *testing.T) {
	g := newGroups(4)
	move := func(still, moving []int) plan.Move {
		return plan.Move{Still: still, Movers: []plan.Mover{{Pieces: moving}}}
	}
	for n, c := range []struct {
		mv    plan.Move
		after int
		still []int
	}{
		{move([]int{0}, []int{1}), 0, []int{0}},
		{move([]int{0, 1}, []int{2}), 1, []int{}},
		{move([]int{0, 2}, []int{3}), 0, []int{0, 2}}, // 1 was taken off
		{move([]int{0, 2, 3}, []int{1}), 3, []int{}},
		{plan.Move{}, 0, []int{}},
	} {
		if after, still := g.follow(n+1, c.mv); after != c.after || !slices.Equal(still, c.still) {
			t.Errorf("step %d: after %d, still %v, want %d, %v", n+1, after, still, c.after, c.still)
		}
	}
}
