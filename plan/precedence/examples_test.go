package precedence_test

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"

	"dryfit/plan/precedence"
)

// example is a system as it is printed, with steps counted from 1.
type example struct {
	n       int
	needs   [][2]int // before, after
	clauses []either
}

// either asks that step is done before at least one of oneOf.
type either struct {
	step  int
	oneOf []int
}

func (e example) system() *precedence.System {
	s := precedence.New(e.n)
	for _, nd := range e.needs {
		s.Need(nd[0]-1, nd[1]-1)
	}
	for _, cl := range e.clauses {
		var oneOf []int
		for _, m := range cl.oneOf {
			oneOf = append(oneOf, m-1)
		}
		s.Clause(cl.step-1, oneOf)
	}
	return s
}

// startingWith is the system with the given steps in front, in that sequence.
func (e example) startingWith(front []int) *precedence.System {
	s := e.system()
	for i, v := range front {
		for w := 1; w <= e.n; w++ {
			if !slices.Contains(front[:i+1], w) {
				s.Need(v-1, w-1)
			}
		}
	}
	return s
}

// orders lists all valid orders: it pins one step after the other to the front
// and asks the solver whether an order is left.
func (e example) orders() [][]int {
	var list [][]int
	var extend func(front []int)
	extend = func(front []int) {
		if !e.startingWith(front).Solvable() {
			return
		}
		if len(front) == e.n {
			list = append(list, slices.Clone(front))
			return
		}
		for v := 1; v <= e.n; v++ {
			if !slices.Contains(front, v) {
				extend(append(front, v))
			}
		}
	}
	extend(nil)
	return list
}

// digits writes an order of at most nine steps the way it is printed: 13425.
func digits(order []int) string {
	var b strings.Builder
	for _, v := range order {
		fmt.Fprint(&b, v)
	}
	return b.String()
}

func count(t *testing.T, s *precedence.System) precedence.Count {
	t.Helper()
	c, err := s.CountOrders(1 << 20)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func checkOrders(t *testing.T, s *precedence.System, want int64) {
	t.Helper()
	if got := count(t, s).Orders; got.Cmp(big.NewInt(want)) != 0 {
		t.Errorf("%v orders, want %d", got, want)
	}
}

// checkCounts checks the counts of the terms of a sequence: want[i] belongs to
// the size first+i.
func checkCounts(t *testing.T, first int, want []int64, build func(n int) *precedence.System) {
	t.Helper()
	for i, w := range want {
		t.Run(fmt.Sprint("n=", first+i), func(t *testing.T) {
			checkOrders(t, build(first+i), w)
		})
	}
}

// The ball-point pen of A. Bourjault, "Contribution a une approche methodologique
// de l'assemblage automatise: elaboration automatique des sequences operatoires",
// these d'Etat, Universite de Franche-Comte, Besancon, 1984, as worked by T. L. De
// Fazio and D. E. Whitney, "Simplified generation of all mechanical assembly
// sequences", IEEE Journal of Robotics and Automation RA-3(6), 1987, 640-658.
//
// Connections: 1 head-body, 2 button-body, 3 head-tube, 4 tube-ink, 5 cap-body.
// "Connection 3 must precede connection 4. Connection 1 must precede connection
// 5.": D. G. Ullman, The Mechanical Design Process, 4th edition, McGraw-Hill, 2010,
// section 11.5. The third relation, 4 before (1 and 2): from memory.
var pen = example{
	n:       5,
	needs:   [][2]int{{3, 4}, {1, 5}},
	clauses: []either{{4, []int{1, 2}}},
}

// penOrders are computed here; that there are 12 of them is De Fazio and Whitney
// 1987, from memory.
var penOrders = []string{
	"13425", "13452", "13542", "15342", "23415", "31425",
	"31452", "31542", "32415", "34125", "34152", "34215",
}

func TestPenOrders(t *testing.T) {
	checkOrders(t, pen.system(), 12) // De Fazio and Whitney 1987, from memory
	var got []string
	for _, order := range pen.orders() {
		got = append(got, digits(order))
	}
	if !slices.Equal(got, penOrders) {
		t.Errorf("orders %v, want %v", got, penOrders)
	}
	// The one sequence that Ullman develops, The Mechanical Design Process, 4th
	// edition, section 11.5: 2, 3, 4, 1, 5.
	if !slices.Contains(got, "23415") {
		t.Error("the sequence of the book is missing")
	}
	if order, _ := pen.system().Order(nil); !slices.Contains(penOrders, digits(from1(order))) {
		t.Errorf("Order returns %v, which is none of them", from1(order))
	}
}

func from1(steps []int) []int {
	var list []int
	for _, v := range steps {
		list = append(list, v+1)
	}
	return list
}

func TestPenStates(t *testing.T) {
	// States 14, by number of connections 1, 3, 4, 3, 2, 1, and 21 moves from one
	// to the next: computed here.
	if got := count(t, pen.system()).Sets; got != 14 {
		t.Errorf("%d states, want 14", got)
	}
	states, moves := map[int]int{0: 0}, map[[2]int]bool{}
	for _, order := range pen.orders() {
		done := 0
		for i, v := range order {
			moves[[2]int{done, v}] = true
			done |= 1 << v
			states[done] = i + 1
		}
	}
	byLen := make([]int, pen.n+1)
	for _, n := range states {
		byLen[n]++
	}
	if want := []int{1, 3, 4, 3, 2, 1}; !slices.Equal(byLen, want) {
		t.Errorf("states by number of connections %v, want %v", byLen, want)
	}
	if len(moves) != 21 {
		t.Errorf("%d moves, want 21", len(moves))
	}
}

func TestPenFreedom(t *testing.T) {
	// Places read off the 12 orders above: computed here.
	f := pen.system().Freedom(100)
	if want := []int{1, 1, 1, 2, 2}; !slices.Equal(f.Earliest, want) {
		t.Errorf("earliest %v, want %v", f.Earliest, want)
	}
	if want := []int{4, 5, 3, 4, 5}; !slices.Equal(f.Latest, want) {
		t.Errorf("latest %v, want %v", f.Latest, want)
	}
	if slices.Contains(f.Bound, true) {
		t.Errorf("not exact: %v", f.Bound)
	}
}

func TestPenOtherRelations(t *testing.T) {
	two := pen.needs
	for _, c := range []struct {
		name string
		want int64
		e    example
	}{
		// All four numbers: computed here.
		{"the two needs only", 30, example{n: 5, needs: two}},
		{"3 before (1 and 2)", 23, example{5, two, []either{{3, []int{1, 2}}}}},
		{"3 before 1", 15, example{n: 5, needs: append(two[:2:2], [2]int{3, 1})}},
		{"4 before 1", 5, example{n: 5, needs: append(two[:2:2], [2]int{4, 1})}},
	} {
		t.Run(c.name, func(t *testing.T) {
			checkOrders(t, c.e.system(), c.want)
			if got := len(c.e.orders()); got != int(c.want) {
				t.Errorf("%d orders listed, want %d", got, c.want)
			}
		})
	}
}

// The smallest system in which working forwards without looking ahead gets stuck:
// beginning with k is allowed and then nothing can be finished. With i, j, k =
// 1, 2, 3 it asks for j before i, and i before (j and k). Computed here.
func TestGreedyTrap(t *testing.T) {
	trap := example{3, [][2]int{{2, 1}}, []either{{1, []int{2, 3}}}}
	checkOrders(t, trap.system(), 1)
	for _, rank := range [][]int{nil, {0, 0, 0}, {3, 2, 1}, {1, 3, 2}, {3, 1, 0}} {
		order, stuck := trap.system().Order(rank)
		if digits(from1(order)) != "213" || stuck != nil {
			t.Errorf("rank %v: order %v, stuck %v", rank, from1(order), stuck)
		}
	}
	if trap.startingWith([]int{3}).Solvable() {
		t.Error("an order begins with k")
	}
}

// The product of L. S. Homem de Mello and A. C. Sanderson, "AND/OR graph
// representation of assembly plans", IEEE Transactions on Robotics and Automation
// 6(2), 1990, 188-199: 1 cap, 2 stick, 3 receptacle, 4 handle. Neither the stick
// nor the receptacle can be the last to come: the other three would shut it out.
func TestFourPartProduct(t *testing.T) {
	product := example{n: 4, clauses: []either{{2, []int{1, 4}}, {3, []int{1, 4}}}}
	c := count(t, product.system())
	if c.Orders.Int64() != 12 { // one part at a time: computed here
		t.Errorf("%v orders, want 12", c.Orders)
	}
	// The AND/OR graph has 12 nodes (Homem de Mello and Sanderson 1990, from
	// memory). Here they are the sets of parts that occur, without the empty one.
	if got := c.Sets - 1; got != 12 {
		t.Errorf("%d subassemblies, want 12", got)
	}
}
