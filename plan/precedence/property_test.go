package precedence_test

import (
	"fmt"
	"math/rand"
	"reflect"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"

	"dryfit/plan/precedence"
)

// The tests of this file hold the package against what trying all permutations,
// all sets or all ways of taking apart gives for small random systems. Nothing in
// the references peels. Sets of steps are bits of an int.

// job is a system in the plainest form.
type job struct {
	n    int
	list []rule
}

// rule is a need (step before after), or a clause (step before one of oneOf).
type rule struct {
	isNeed bool
	step   int
	after  int
	oneOf  []int
	why    []int // statements
}

func (j job) String() string {
	s := fmt.Sprintf("%d steps:", j.n)
	for _, r := range j.list {
		if r.isNeed {
			s += fmt.Sprintf(" %d<%d%v", r.step, r.after, r.why)
		} else {
			s += fmt.Sprintf(" %d<one%v%v", r.step, r.oneOf, r.why)
		}
	}
	return s
}

func (j job) system() *precedence.System {
	s := precedence.New(j.n)
	for _, r := range j.list {
		r.addTo(s)
	}
	return s
}

func (r rule) addTo(s *precedence.System) {
	if r.isNeed {
		s.Need(r.step, r.after, r.why...)
	} else {
		s.Clause(r.step, r.oneOf, r.why...)
	}
}

// newJob draws a system. Half of the systems follow a hidden order most of the
// time, so that many with several constraints can be solved.
func newJob(r *rand.Rand, n int) job {
	j := job{n: n}
	hidden := r.Perm(n)
	follow := r.Intn(2) == 0
	for i := range r.Intn(2*n + 1) {
		rule := newRule(r, n)
		if follow && r.Intn(20) > 0 {
			rule.obey(hidden)
		}
		rule.why = newWhy(r, i)
		j.list = append(j.list, rule)
	}
	return j
}

func newRule(r *rand.Rand, n int) rule {
	rule := rule{isNeed: r.Intn(2) == 0, step: r.Intn(n), after: r.Intn(n)}
	if rule.isNeed {
		if rule.after == rule.step && r.Intn(4) > 0 { // a need of itself is rare
			rule.after = (rule.step + 1) % n
		}
		return rule
	}
	size := 1 + r.Intn(3)
	if r.Intn(25) == 0 {
		size = 0
	}
	for range size {
		rule.oneOf = append(rule.oneOf, r.Intn(n))
	}
	return rule
}

// obey turns the rule round where the order contradicts it.
func (r *rule) obey(place []int) {
	if r.isNeed && place[r.step] > place[r.after] {
		r.step, r.after = r.after, r.step
	}
	for i, m := range r.oneOf {
		if place[r.step] > place[m] {
			r.step, r.oneOf[i] = m, r.step
		}
	}
}

// newWhy gives rule i a statement of its own, at times a second one that it
// shares with others, at times none.
func newWhy(r *rand.Rand, i int) []int {
	switch r.Intn(8) {
	case 0:
		return nil
	case 1, 2:
		return []int{i, 100 + r.Intn(3)}
	}
	return []int{i}
}

// forAll runs the check for many random systems of 1 to 7 steps.
func forAll(t *testing.T, seed int64, systems int, check func(t *testing.T, r *rand.Rand, j job)) {
	t.Helper()
	r := rand.New(rand.NewSource(seed))
	for i := range systems {
		j := newJob(r, 1+i%7)
		check(t, r, j)
		if t.Failed() {
			t.Fatalf("system %d: %v", i, j)
		}
	}
}

// places holds, for each number of steps, all ways to give each step a place.
var places = sync.OnceValue(func() [8][][]int {
	var all [8][][]int
	for n := range all {
		var extend func(place []int)
		extend = func(place []int) {
			if len(place) == n {
				all[n] = append(all[n], slices.Clone(place))
			}
			for p := range n {
				if !slices.Contains(place, p) {
					extend(append(place, p))
				}
			}
		}
		extend(nil)
	}
	return all
})

func (r rule) holds(place []int) bool {
	if r.isNeed {
		return place[r.step] < place[r.after]
	}
	for _, m := range r.oneOf {
		if place[m] > place[r.step] {
			return true
		}
	}
	return false
}

func (j job) holds(place []int) bool {
	for _, r := range j.list {
		if !r.holds(place) {
			return false
		}
	}
	return true
}

// truth is what the valid permutations of a system have in common.
type truth struct {
	orders      int
	sets        map[int]bool // of steps done at some moment
	first, last []int        // places from 1
	before      []int        // sets of the steps that always precede
}

func (j job) truth() truth {
	t := truth{sets: map[int]bool{}, first: make([]int, j.n), last: make([]int, j.n), before: make([]int, j.n)}
	for v := range j.n {
		t.first[v], t.before[v] = j.n, 1<<j.n-1
	}
	for _, place := range places()[j.n] {
		if j.holds(place) {
			t.add(place)
		}
	}
	return t
}

func (t *truth) add(place []int) {
	t.orders++
	t.sets[0] = true
	for v, p := range place {
		t.first[v] = min(t.first[v], p+1)
		t.last[v] = max(t.last[v], p+1)
		earlier := 0
		for w, q := range place {
			if q < p {
				earlier |= 1 << w
			}
		}
		t.before[v] &= earlier
		t.sets[earlier|1<<v] = true
	}
}

func toSet(steps []int) int {
	set := 0
	for _, v := range steps {
		set |= 1 << v
	}
	return set
}

func toList(set int) []int {
	var list []int
	for v := 0; set>>v > 0; v++ {
		if set>>v&1 == 1 {
			list = append(list, v)
		}
	}
	return list
}

// waits reports whether step v waits for a step of the set on.
func (j job) waits(v, on int) bool {
	for _, r := range j.list {
		if r.step != v {
			continue
		}
		if r.isNeed && on>>r.after&1 == 1 || !r.isNeed && toSet(r.oneOf)&^on == 0 {
			return true
		}
	}
	return false
}

// largestTrap is the union of all sets of steps within the given one in which
// each step waits for another of the same set. It looks at every set.
func (j job) largestTrap(within int) int {
	union := 0
	for set := within; set > 0; set = (set - 1) & within {
		all := true
		for v := range j.n {
			if set>>v&1 == 1 && !j.waits(v, set) {
				all = false
				break
			}
		}
		if all {
			union |= set
		}
	}
	return union
}

// ends takes the system apart in every way and returns what can be left in the end.
func (j job) ends() map[int]bool {
	ends, seen := map[int]bool{}, map[int]bool{}
	var from func(on int)
	from = func(on int) {
		if seen[on] {
			return
		}
		seen[on] = true
		over := true
		for v := range j.n {
			if on>>v&1 == 1 && !j.waits(v, on) {
				over = false
				from(on &^ (1 << v))
			}
		}
		if over {
			ends[on] = true
		}
	}
	from(1<<j.n - 1)
	return ends
}

// placesOf turns an order round: the place of each step. It fails when the order
// is not a permutation.
func placesOf(t *testing.T, order []int, n int) []int {
	t.Helper()
	place := make([]int, n)
	for v := range place {
		place[v] = slices.Index(order, v)
	}
	if len(order) != n || slices.Contains(place, -1) {
		t.Fatalf("%v is not an order of %d steps", order, n)
	}
	return place
}

func TestSolvableIffAPermutationHolds(t *testing.T) {
	solvable := 0
	forAll(t, 1, 8000, func(t *testing.T, r *rand.Rand, j job) {
		s, want := j.system(), j.truth()
		if s.Solvable() != (want.orders > 0) {
			t.Errorf("solvable %v, but %d orders", s.Solvable(), want.orders)
		}
		order, stuck := s.Order(nil)
		if want.orders > 0 {
			solvable++
			if stuck != nil || !j.holds(placesOf(t, order, j.n)) {
				t.Errorf("order %v, stuck %v", order, stuck)
			}
		} else if order != nil || len(stuck) == 0 {
			t.Errorf("order %v, stuck %v, but there is no order", order, stuck)
		}
		if s.Len() != j.n {
			t.Errorf("%d steps", s.Len())
		}
	})
	// A generator that makes only one kind would test little.
	if solvable < 2000 || solvable > 6000 {
		t.Errorf("%d of 8000 systems are solvable", solvable)
	}
}

// TestOrderTakesGreatestRank takes the system apart by the rule that the ranks
// set: of all steps that may be last, the one of greatest rank, then of greatest
// number.
func TestOrderTakesGreatestRank(t *testing.T) {
	forAll(t, 2, 4000, func(t *testing.T, r *rand.Rand, j job) {
		rank := make([]int, j.n)
		for v := range rank {
			rank[v] = r.Intn(4)
		}
		var want []int
		for on := 1<<j.n - 1; ; {
			best := -1
			for _, v := range toList(on) {
				if !j.waits(v, on) && (best < 0 || rank[v] >= rank[best]) {
					best = v
				}
			}
			if best < 0 {
				break
			}
			want = append(want, best)
			on &^= 1 << best
		}
		slices.Reverse(want)
		order, stuck := j.system().Order(rank)
		if stuck == nil && !slices.Equal(order, want) || len(want)+len(stuck) != j.n {
			t.Errorf("rank %v: order %v, stuck %v, want %v", rank, order, stuck, want)
		}
	})
}

func TestStuckIsTheLargestTrap(t *testing.T) {
	forAll(t, 3, 8000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		stuck := s.Stuck()
		if want := toList(j.largestTrap(1<<j.n - 1)); !slices.Equal(stuck, want) {
			t.Errorf("stuck %v, want %v", stuck, want)
		}
		if ends := j.ends(); len(ends) != 1 || !ends[toSet(stuck)] {
			t.Errorf("stuck %v, but taking apart ends with %v", stuck, ends)
		}
		if _, same := s.Order(nil); !slices.Equal(same, stuck) {
			t.Errorf("stuck %v, by Order %v", stuck, same)
		}
	})
}

func TestCountOrdersAgainstPermutations(t *testing.T) {
	forAll(t, 4, 6000, func(t *testing.T, r *rand.Rand, j job) {
		s, want := j.system(), j.truth()
		c, err := s.CountOrders(1 << j.n)
		if err != nil {
			t.Fatal(err)
		}
		if c.Orders.Int64() != int64(want.orders) {
			t.Errorf("%v orders, want %d", c.Orders, want.orders)
		}
		// Without an order no set can be said to be done on the way.
		if want.orders > 0 && c.Sets != len(want.sets) {
			t.Errorf("%d sets, want %d", c.Sets, len(want.sets))
		}
		if same, err := s.CountOrders(c.Sets); err != nil || same.Sets != c.Sets {
			t.Errorf("limit of exactly %d sets: %v", c.Sets, err)
		}
		if _, err := s.CountOrders(c.Sets - 1); err == nil && c.Sets > 1 {
			t.Errorf("no error with a limit of %d sets", c.Sets-1)
		}
	})
}

func TestCountOrdersOfManySteps(t *testing.T) {
	chain := func(n int) *precedence.System {
		s := precedence.New(n)
		for v := 1; v < n; v++ {
			s.Need(v-1, v)
		}
		return s
	}
	c, err := chain(64).CountOrders(65)
	if err != nil || c.Orders.Int64() != 1 || c.Sets != 65 {
		t.Errorf("64 steps: %v, %v", c, err)
	}
	if _, err := chain(65).CountOrders(1000); err == nil {
		t.Error("65 steps: no error")
	}
}

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

// roots finds the roots from their meaning: v is in a root if all that v waits
// for, directly or not, waits for v in turn.
func (j job) roots() []precedence.Root {
	stuck := j.largestTrap(1<<j.n - 1)
	reach := j.reach(stuck)
	var roots []precedence.Root
	done := 0
	for _, v := range toList(stuck) {
		if done>>v&1 == 1 || !mutual(reach, v) {
			continue
		}
		root := precedence.Root{Steps: toList(reach[v] | 1<<v)}
		for _, w := range root.Steps {
			if j.unmet(w, stuck) {
				root.Trapped = append(root.Trapped, w)
			}
		}
		roots = append(roots, root)
		done |= toSet(root.Steps)
	}
	return roots
}

func mutual(reach []int, v int) bool {
	for _, w := range toList(reach[v]) {
		if reach[w]>>v&1 == 0 {
			return false
		}
	}
	return true
}

// reach is, for each step, the set of the stuck steps it waits for, directly or not.
func (j job) reach(stuck int) []int {
	reach := make([]int, j.n)
	for _, r := range j.list {
		if r.isNeed {
			reach[r.step] |= 1 << r.after & stuck
		} else if set := toSet(r.oneOf); set&^stuck == 0 {
			reach[r.step] |= set
		}
	}
	for range j.n {
		for v := range reach {
			for _, w := range toList(reach[v]) {
				reach[v] |= reach[w]
			}
		}
	}
	return reach
}

func (j job) unmet(v, stuck int) bool {
	return slices.ContainsFunc(j.list, func(r rule) bool {
		return !r.isNeed && r.step == v && toSet(r.oneOf)&^stuck == 0
	})
}

func TestRootsAgainstTheirMeaning(t *testing.T) {
	several := 0
	forAll(t, 8, 6000, func(t *testing.T, r *rand.Rand, j job) {
		got, want := j.system().Roots(), j.roots()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("roots %v, want %v", got, want)
		}
		if len(got) > 1 {
			several++
		}
	})
	if several == 0 {
		t.Error("no system with several roots")
	}
}

// holding is the system without the rules that rest on any other statement.
func (j job) holding(statements []int) job {
	kept := job{n: j.n}
	for _, r := range j.list {
		if !slices.ContainsFunc(r.why, func(b int) bool { return !slices.Contains(statements, b) }) {
			kept.list = append(kept.list, r)
		}
	}
	return kept
}

func TestConflictCannotBeSmaller(t *testing.T) {
	roots, facts := 0, 0
	forAll(t, 9, 8000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		for _, root := range s.Roots() {
			roots++
			within := toSet(root.Steps)
			kept := s.Conflict(root)
			if j.holding(kept).largestTrap(within) == 0 {
				t.Errorf("root %v: with %v alone nothing is stuck", root, kept)
			}
			if j.holding(kept).largestTrap(1<<j.n-1)&within == 0 {
				t.Errorf("root %v: with %v alone no step of it is stuck in the whole system", root, kept)
			}
			if j.holding(nil).largestTrap(within) != 0 {
				facts++
				if len(kept) > 0 {
					t.Errorf("root %v: %v, but the facts alone are in conflict", root, kept)
				}
			}
			for i := range kept {
				rest := slices.Delete(slices.Clone(kept), i, i+1)
				if j.holding(rest).largestTrap(within) != 0 {
					t.Errorf("root %v: %v, but %v is a conflict too", root, kept, rest)
				}
			}
		}
	})
	if roots < 2000 || facts < 50 {
		t.Errorf("%d roots, %d of them by facts alone", roots, facts)
	}
}

// TestNoConflictWithoutRoot asks for the reason why nothing is stuck.
func TestNoConflictWithoutRoot(t *testing.T) {
	forAll(t, 14, 1000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		if s.Solvable() {
			if kept := s.Conflict(precedence.Root{Steps: toList(1<<j.n - 1)}); len(kept) > 0 {
				t.Errorf("conflict %v", kept)
			}
		}
	})
}

func TestRelabelling(t *testing.T) {
	forAll(t, 10, 4000, func(t *testing.T, r *rand.Rand, j job) {
		number := r.Perm(j.n)
		other := j.relabel(number, j.n)
		r.Shuffle(len(other.list), func(a, b int) {
			other.list[a], other.list[b] = other.list[b], other.list[a]
		})
		a, b := j.system(), other.system()
		if a.Solvable() != b.Solvable() || toSet(a.Stuck()) != backSet(b.Stuck(), number) {
			t.Errorf("as %v: stuck %v and %v", number, a.Stuck(), b.Stuck())
		}
		if c, d := count(t, a), count(t, b); c.Orders.Cmp(d.Orders) != 0 || c.Sets != d.Sets {
			t.Errorf("as %v: counts %v and %v", number, c, d)
		}
		if len(a.Roots()) != len(b.Roots()) {
			t.Errorf("as %v: roots %v and %v", number, a.Roots(), b.Roots())
		}
		if a.Solvable() {
			f, g := a.Freedom(1<<20), b.Freedom(1<<20)
			for v, w := range number {
				if f.Earliest[v] != g.Earliest[w] || f.Latest[v] != g.Latest[w] {
					t.Errorf("as %v: step %d has other places", number, v)
				}
			}
		}
	})
}

// TestAddingAConstraint adds to a system that has been solved already.
func TestAddingAConstraint(t *testing.T) {
	forAll(t, 11, 4000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		stuck, orders := toSet(s.Stuck()), count(t, s).Orders
		j.list = append(j.list, newRule(r, j.n))
		j.list[len(j.list)-1].addTo(s)
		if now := toSet(s.Stuck()); stuck&^now != 0 {
			t.Errorf("stuck before %v, now %v", toList(stuck), toList(now))
		}
		now := count(t, s)
		if now.Orders.Cmp(orders) > 0 {
			t.Errorf("%v orders before, now %v", orders, now.Orders)
		}
		// Nothing of the earlier answers may stay behind.
		if !reflect.DeepEqual(answers(t, s), answers(t, j.system())) {
			t.Error("other answers than of a new system")
		}
	})
}

// answers asks a system all there is to ask.
func answers(t *testing.T, s *precedence.System) []any {
	order, stuck := s.Order(nil)
	roots := s.Roots()
	c := count(t, s)
	list := []any{order, stuck, s.Stuck(), s.Solvable(), roots, c.Orders.String(), c.Sets}
	for _, root := range roots {
		list = append(list, s.Conflict(root))
	}
	if order != nil {
		list = append(list, s.Freedom(3))
	}
	return list
}

func TestSameInputSameOutput(t *testing.T) {
	forAll(t, 12, 3000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		first := answers(t, s)
		if !reflect.DeepEqual(answers(t, s), first) {
			t.Error("the same system gives other answers when asked again")
		}
		for range 3 {
			if !reflect.DeepEqual(answers(t, j.system()), first) {
				t.Error("an equal system gives other answers")
			}
		}
	})
}

func TestNoSteps(t *testing.T) {
	s := precedence.New(0)
	order, stuck := s.Order(nil)
	if order == nil || len(order) > 0 || stuck != nil || !s.Solvable() || s.Roots() != nil {
		t.Errorf("order %v, stuck %v", order, stuck)
	}
	if c := count(t, s); c.Orders.Int64() != 1 || c.Sets != 1 {
		t.Errorf("counts %v", c)
	}
}

// TestNeedsAgainstGonum compares systems of needs only with topological sorting.
func TestNeedsAgainstGonum(t *testing.T) {
	r := rand.New(rand.NewSource(13))
	sorted := 0
	for i := range 4000 {
		n := 2 + r.Intn(60)
		s, g := precedence.New(n), simple.NewDirectedGraph()
		for v := range n {
			g.AddNode(simple.Node(v))
		}
		for range r.Intn(2 * n) {
			b, a := r.Intn(n), r.Intn(n)
			if b > a && r.Intn(n/8+1) > 0 { // mostly upwards, else nearly all have cycles
				b, a = a, b
			}
			if b != a {
				s.Need(b, a)
				g.SetEdge(simple.Edge{F: simple.Node(b), T: simple.Node(a)})
			}
		}
		_, err := topo.Sort(g)
		if s.Solvable() != (err == nil) {
			t.Fatalf("graph %d: solvable %v, gonum: %v", i, s.Solvable(), err)
		}
		if err == nil {
			sorted++
			checkPaths(t, s, g)
		}
	}
	if sorted < 1000 || sorted > 3000 {
		t.Errorf("%d of 4000 graphs can be sorted", sorted)
	}
}

// checkPaths compares a pair of steps, and the order, with the paths of the graph.
func checkPaths(t *testing.T, s *precedence.System, g *simple.DirectedGraph) {
	t.Helper()
	order, _ := s.Order(nil)
	place := placesOf(t, order, s.Len())
	for e := g.Edges(); e.Next(); {
		if place[e.Edge().From().ID()] > place[e.Edge().To().ID()] {
			t.Fatalf("order %v breaks %v", order, e.Edge())
		}
	}
	f := s.Freedom(0)
	last := s.Len() - 1
	for v := range last {
		path := topo.PathExistsIn(g, simple.Node(v), simple.Node(last))
		if slices.Contains(f.Before(last), v) != path || slices.Contains(f.After(v), last) != path {
			t.Fatalf("path from %d to %d: %v", v, last, path)
		}
		// Without clauses the latest place leaves room for the followers only.
		if f.Bound[v] || f.Latest[v] != s.Len()-len(f.After(v)) {
			t.Fatalf("step %d: latest %d, after %v", v, f.Latest[v], f.After(v))
		}
	}
}
