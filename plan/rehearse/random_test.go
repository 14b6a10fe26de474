package rehearse

import (
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/plan"
)

// The replay gets as far in every sequence as one who builds by the definitions and
// tries everything: in the sequences that are found, in those with two steps swapped or
// one dropped, and in any other.
func TestAgainstBruteForce(t *testing.T) {
	var count struct{ kits, found, reopened, swaps, broken, wrong int }
	eachSolved(t, kitstest.Rounds(t, 4000, 600), func(seed uint64, r *rand.Rand, p *plan.Project) {
		count.kits++
		found := p.Sequence.Order
		b := &brute{p.Kit, p.Constraints.Geometry, p.Constraints.Steps, nil}
		compare := func(order []int) *Result {
			got := Walk(p.Kit, b.g, b.steps, Actions(order))
			if want := b.follow(order); got.Fine != want {
				count.wrong++
				if count.wrong < 4 {
					t.Errorf("%d steps are fine, want %d:\n%s", got.Fine, want, describe(seed, p, order))
				}
			}
			return got
		}
		got := compare(found)
		if got.OK() {
			count.found++
		} else {
			t.Errorf("the sequence found fails at step %d:\n%s", got.Fine+1, describe(seed, p, found))
		}
		if len(got.Reopened) > 0 {
			count.reopened++
		}
		for range 4 {
			swapped := slices.Clone(found)
			i, j := r.IntN(len(found)), r.IntN(len(found))
			swapped[i], swapped[j] = swapped[j], swapped[i]
			count.swaps++
			if !compare(swapped).OK() {
				count.broken++
			}
		}
		compare(r.Perm(len(found)))
		drop := r.IntN(len(found))
		if less := compare(slices.Delete(slices.Clone(found), drop, drop+1)); !slices.Equal(less.Missing, []int{found[drop]}) {
			t.Errorf("missing are %v, want %d:\n%s", less.Missing, found[drop], describe(seed, p, found))
		}
	})
	t.Logf("%+v", count)
	if count.reopened == 0 || count.broken == 0 || count.broken == count.swaps {
		t.Errorf("the kits test too little: %+v", count)
	}
}
