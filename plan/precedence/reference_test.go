package precedence_test

import (
	"fmt"
	"math/rand"
	"slices"
	"sync"
	"testing"

	"dryfit/plan/precedence"
)

// What the package finds for small random systems is compared with what trying all
// permutations, all sets or all ways of taking apart gives. Nothing in this reference
// peels. Sets of steps are bits of an int.

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
