package precedence_test

import (
	"math/rand"
	"slices"
	"testing"
)

func TestFreedomAgainstPermutations(t *testing.T) {
	solvable := 0
	forAll(t, 5, 8000, func(t *testing.T, r *rand.Rand, j job) {
		want := j.truth()
		if want.orders == 0 {
			return
		}
		solvable++
		f := j.system().Freedom(1 << 20)
		if !slices.Equal(f.Earliest, want.first) || !slices.Equal(f.Latest, want.last) {
			t.Errorf("places %v to %v, want %v to %v", f.Earliest, f.Latest, want.first, want.last)
		}
		if slices.Contains(f.Bound, true) {
			t.Errorf("not exact: %v", f.Bound)
		}
		for v := range j.n {
			after := 0
			for w, before := range want.before {
				after |= before >> v & 1 << w
			}
			if !slices.Equal(f.Before(v), toList(want.before[v])) || !slices.Equal(f.After(v), toList(after)) {
				t.Errorf("step %d: before %v, after %v", v, f.Before(v), f.After(v))
			}
		}
	})
	if solvable < 2000 {
		t.Errorf("only %d solvable systems", solvable)
	}
}

// TestFreedomWithLittleEffort checks that a latest place is never too small, and
// right unless it is marked as a bound.
func TestFreedomWithLittleEffort(t *testing.T) {
	bounds := 0
	forAll(t, 6, 4000, func(t *testing.T, r *rand.Rand, j job) {
		want := j.truth()
		if want.orders == 0 {
			return
		}
		f := j.system().Freedom(r.Intn(5))
		for v, latest := range f.Latest {
			if latest < want.last[v] || latest > want.last[v] && !f.Bound[v] {
				t.Errorf("step %d: latest %d, bound %v, want %d", v, latest, f.Bound[v], want.last[v])
			}
			if f.Bound[v] {
				bounds++
			}
		}
		if !slices.Equal(f.Earliest, want.first) {
			t.Errorf("earliest %v, want %v", f.Earliest, want.first)
		}
	})
	if bounds == 0 {
		t.Error("no bound at all: the effort was not little")
	}
}

// spread moves a system into one of n steps, between steps without constraints.
func (j job) spread(r *rand.Rand, n int) (big job, number []int) {
	number = r.Perm(n)[:j.n]
	return j.relabel(number, n), number
}

func (j job) relabel(number []int, n int) job {
	big := job{n: n}
	for _, r := range j.list {
		c := r
		c.step, c.after, c.oneOf = number[r.step], number[r.after], nil
		for _, m := range r.oneOf {
			c.oneOf = append(c.oneOf, number[m])
		}
		big.list = append(big.list, c)
	}
	return big
}

// TestFreedomOfManySteps uses more steps than fit a machine word. The steps
// without constraints change nothing but the number of places.
func TestFreedomOfManySteps(t *testing.T) {
	forAll(t, 7, 300, func(t *testing.T, r *rand.Rand, j job) {
		want := j.truth()
		big, number := j.spread(r, 150)
		if want.orders == 0 {
			if got, small := big.system().Stuck(), j.system().Stuck(); toSet(small) != backSet(got, number) {
				t.Errorf("stuck %v as %v: %v", small, number, got)
			}
			return
		}
		f := big.system().Freedom(1 << 20)
		for v, w := range number {
			if f.Earliest[w] != want.first[v] || f.Latest[w] != want.last[v]+big.n-j.n {
				t.Errorf("step %d: places %d to %d", v, f.Earliest[w], f.Latest[w])
			}
			if backSet(f.Before(w), number) != want.before[v] || !slices.IsSorted(f.Before(w)) {
				t.Errorf("step %d as %v: before %v", v, number, f.Before(w))
			}
		}
	})
}

// backSet is the set of the small numbers of the steps.
func backSet(steps, number []int) int {
	set := 0
	for _, w := range steps {
		set |= 1 << slices.Index(number, w)
	}
	return set
}
