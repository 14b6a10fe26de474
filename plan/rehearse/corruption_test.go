package rehearse

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// What is done to an order, and the counts of what was found.
type corruption struct{ swapped, dropped, moved, harmless int }

// A thousand corruptions of orders are all found: two steps swapped where that breaks
// something by brute force, a step dropped, a piece moved among the others. A thousand
// swaps that break nothing are all accepted.
func TestCorruptions(t *testing.T) {
	var n corruption
	want := kitstest.Rounds(t, 1000, 150)
	for seed := uint64(0); n.swapped+n.dropped+n.moved < want || n.harmless < want; seed++ {
		r := rand.New(rand.NewPCG(seed, 14))
		k, err := kits.Read("kit.yaml", []byte(generate(r)))
		if err != nil {
			continue
		}
		cells, g := boxes(r, k)
		p, err := explain.CheckMeasured(k, agreeing(k, g))
		if err != nil {
			t.Fatal(err)
		}
		if p.Sequence == nil || len(p.Sequence.Order) < 3 {
			continue
		}
		b := &brute{k, g, p.Constraints.Steps, nil}
		for _, err := range []error{n.swap(r, b, p.Sequence.Order), n.drop(r, b, p.Sequence.Order), n.move(r, b, cells, p.Sequence.Order)} {
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
	}
	t.Logf("%+v", n)
	if min(n.swapped, n.dropped, n.moved) < want/20 {
		t.Errorf("the kits test too little: %+v", n)
	}
}

func (n *corruption) swap(r *rand.Rand, b *brute, order []int) error {
	list := slices.Clone(order)
	i, j := r.IntN(len(list)), r.IntN(len(list))
	list[i], list[j] = list[j], list[i]
	fine := b.follow(list) == len(list)
	switch {
	case fine && i != j:
		n.harmless++
	case !fine:
		n.swapped++
	}
	return b.sameVerdict(list, fine)
}

func (n *corruption) drop(r *rand.Rand, b *brute, order []int) error {
	if r.IntN(4) > 0 {
		return nil
	}
	n.dropped++
	i := r.IntN(len(order))
	return b.sameVerdict(slices.Delete(slices.Clone(order), i, i+1), false)
}

// move counts only moves that break something.
func (n *corruption) move(r *rand.Rand, b *brute, cells *grid, order []int) error {
	var g *plan.Geometry
	for range 30 {
		if g = cells.moved(r.IntN(len(b.k.Pieces))); g != nil {
			break
		}
	}
	if g == nil {
		return nil
	}
	after := &brute{b.k, agreeing(b.k, g), b.steps, nil}
	fine := after.follow(order) == len(order)
	if !fine {
		n.moved++
	}
	return after.sameVerdict(order, fine)
}

func (b *brute) sameVerdict(order []int, fine bool) error {
	if got := Walk(b.k, b.g, b.steps, Actions(order)); got.OK() != fine {
		return fmt.Errorf("the replay of %v says %v, want %v: %+v", order, got.OK(), fine, got.Failure)
	}
	return nil
}
