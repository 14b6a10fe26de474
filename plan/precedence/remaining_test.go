package precedence_test

import (
	"math/rand"
	"slices"
	"testing"
)

// left tells whether a permutation builds the steps that are not done after those
// that are, and keeps to all that still matters then.
func (j job) left(place []int, done []bool) bool {
	n := 0
	for _, d := range done {
		if d {
			n++
		}
	}
	for v, d := range done {
		if d != (place[v] < n) {
			return false
		}
	}
	for _, r := range j.list {
		if !done[r.step] && !(r.isNeed && done[r.after]) && !r.holds(place) {
			return false
		}
	}
	return true
}

// What can be done next is the first step of each permutation that ends well.
func TestNextAgainstPermutations(t *testing.T) {
	solvable := 0
	forAll(t, 20, 3000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		done, n := make([]bool, j.n), 0
		for v := range done {
			if done[v] = r.Intn(3) == 0; done[v] {
				n++
			}
		}
		first, orders := make([]bool, j.n), 0
		for _, place := range places()[j.n] {
			if j.left(place, done) {
				orders++
				if n < j.n {
					first[slices.Index(place, n)] = true
				}
			}
		}
		rest := s.After(done)
		if got := rest.Solvable(); got != (orders > 0) {
			t.Fatalf("done %v: solvable %v, but %d orders", done, got, orders)
		}
		if orders == 0 {
			return
		}
		solvable++
		next := make([]bool, j.n)
		for _, v := range s.Ready(done) {
			next[v] = len(rest.Before(v)) == 0
		}
		if !slices.Equal(next, first) {
			t.Errorf("done %v: next %v, want %v", done, next, first)
		}
	})
	if solvable < 500 {
		t.Errorf("only %d systems could still be finished", solvable)
	}
}

// In any system, what does not come off while a step stays on that has all it needs is
// what is stuck once that step is done.
func TestBeforeOfReadyAgainstTraps(t *testing.T) {
	lost := 0
	forAll(t, 21, 3000, func(t *testing.T, r *rand.Rand, j job) {
		done := make([]bool, j.n)
		for v := range done {
			done[v] = r.Intn(3) == 0
		}
		s := j.system()
		for _, v := range s.Ready(done) {
			more := slices.Clone(done)
			more[v] = true
			want := toList(j.stuckAfter(more))
			got := s.After(done).Before(v)
			if !slices.Equal(got, want) {
				t.Errorf("done %v: before %d %v, want %v", done, v, got, want)
			}
			lost += len(want)
		}
	})
	if lost < 500 {
		t.Errorf("only %d steps were lost", lost)
	}
}

// stuckAfter is the largest trap among the steps that are not done.
func (j job) stuckAfter(done []bool) int {
	rest := job{n: j.n}
	all := 0
	for v := range j.n {
		if !done[v] {
			all |= 1 << v
		}
	}
	for _, r := range j.list {
		if !done[r.step] && !(r.isNeed && done[r.after]) {
			r.oneOf = slices.DeleteFunc(slices.Clone(r.oneOf), func(m int) bool { return done[m] })
			rest.list = append(rest.list, r)
		}
	}
	return rest.largestTrap(all)
}

// Every order that keeps to the pairs is valid, and the order itself keeps to them.
func TestPairsAgainstPermutations(t *testing.T) {
	orders := 0
	forAll(t, 22, 3000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		order, stuck := s.Order(nil)
		if len(stuck) > 0 {
			return
		}
		pairs := s.Pairs(order)
		keeps := func(place []int) bool {
			return !slices.ContainsFunc(pairs, func(p [2]int) bool { return place[p[0]] >= place[p[1]] })
		}
		if !keeps(placesOf(t, order, j.n)) {
			t.Errorf("the order %v does not keep to its pairs %v", order, pairs)
		}
		for _, place := range places()[j.n] {
			if keeps(place) {
				orders++
				if !j.holds(place) {
					t.Fatalf("%v keeps to %v of %v and is not valid", place, pairs, order)
				}
			}
		}
	})
	if orders < 5000 {
		t.Errorf("only %d orders keep to pairs", orders)
	}
}
