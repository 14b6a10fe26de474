package precedence_test

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"

	"dryfit/plan/precedence"
)

// A valid order is found exactly if some permutation is one.
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
