package precedence_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand"
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

// forest reads an ordered forest: each pair of brackets is a step, done before
// the steps inside. It returns the parent of each step too, -1 for a root.
func forest(brackets string) (s *precedence.System, parent []int) {
	var open []int
	for _, r := range brackets {
		switch r {
		case '[':
			up := -1
			if len(open) > 0 {
				up = open[len(open)-1]
			}
			open = append(open, len(parent))
			parent = append(parent, up)
		case ']':
			open = open[:len(open)-1]
		}
	}
	return tree(parent), parent
}

func tree(parent []int) *precedence.System {
	s := precedence.New(len(parent))
	for v, up := range parent {
		if up >= 0 {
			s.Need(up, v)
		}
	}
	return s
}

// hooks is n! divided by the product of the sizes of all subtrees. Each parent
// has a smaller number than its children.
func hooks(parent []int) int64 {
	size := make([]int64, len(parent))
	factorial, product := int64(1), int64(1)
	for v := len(parent) - 1; v >= 0; v-- {
		size[v]++
		if parent[v] >= 0 {
			size[parent[v]] += size[v]
		}
		product *= size[v]
		factorial *= int64(v + 1)
	}
	return factorial / product
}

func TestForests(t *testing.T) {
	// FindStat, the combinatorial statistics database (findstat.org), statistic
	// St000085, the number of linear extensions of an ordered tree.
	for _, c := range []struct {
		brackets string
		want     int64
	}{
		{"[[],[]]", 2},
		{"[[[]]]", 1},
		{"[[],[[]]]", 3},
		{"[[[],[]]]", 2},
		{"[[],[],[[]]]", 12},
		{"[[],[[],[]]]", 8},
		{"[[[]],[[]]]", 6},
		{"[[[],[[]]]]", 3},
		{"[[],[[]],[[]]]", 30},
		{"[[],[[],[[]]]]", 15},
		{"[[[]],[[],[]]]", 20},
		{"[[[]],[[[]]]]", 10},
		{"[[],[[]],[[],[]]]", 120},
		{"[[],[],[[[],[]]]]", 60},
	} {
		t.Run(c.brackets, func(t *testing.T) {
			s, parent := forest(c.brackets)
			checkOrders(t, s, c.want)
			if got := hooks(parent); got != c.want {
				t.Errorf("hook lengths give %d, want %d", got, c.want)
			}
		})
	}
}

// The hook length formula for forests: D. E. Knuth, The Art of Computer
// Programming, volume 3, Sorting and Searching, Addison-Wesley, 1973, section
// 5.1.4; A. Bjorner and M. L. Wachs, "q-Hook length formulas for forests",
// Journal of Combinatorial Theory, Series A 52 (1989), 165-187.
func TestHookLengthFormula(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 60 {
		parent := make([]int, 1+r.Intn(12))
		for v := range parent {
			parent[v] = r.Intn(v+1) - 1
		}
		checkOrders(t, tree(parent), hooks(parent))
	}
}

// fence is 0 < 1 > 2 < 3 ..., or with up false 0 > 1 < 2 > 3 ....
func fence(n int, up bool) *precedence.System {
	s := precedence.New(n)
	for v := range n - 1 {
		if (v%2 == 0) == up {
			s.Need(v, v+1)
		} else {
			s.Need(v+1, v)
		}
	}
	return s
}

func TestFence(t *testing.T) {
	// The On-Line Encyclopedia of Integer Sequences, A000111 (Euler zigzag
	// numbers), from memory.
	want := []int64{1, 1, 2, 5, 16, 61, 272, 1385, 7936, 50521, 353792, 2702765}
	checkCounts(t, 1, want, func(n int) *precedence.System { return fence(n, true) })
	t.Run("other way", func(t *testing.T) {
		checkCounts(t, 1, want, func(n int) *precedence.System { return fence(n, false) })
	})
}

func TestBothFences(t *testing.T) {
	// The On-Line Encyclopedia of Integer Sequences, A001250 (alternating
	// permutations of either kind), n = 2 to 10, as listed in Wikipedia, "Fence
	// (mathematics)".
	for i, want := range []int64{2, 4, 10, 32, 122, 544, 2770, 15872, 101042} {
		n := i + 2
		up, down := count(t, fence(n, true)).Orders, count(t, fence(n, false)).Orders
		if got := new(big.Int).Add(up, down); got.Cmp(big.NewInt(want)) != 0 {
			t.Errorf("n=%d: %v orders, want %d", n, got, want)
		}
	}
}

func TestBooleanLattice(t *testing.T) {
	// G. Brightwell and P. Tetali, "The number of linear extensions of the Boolean
	// lattice", Order 20 (2003), 333-345; The On-Line Encyclopedia of Integer
	// Sequences, A046873, n = 0 to 4.
	orders := []int64{1, 1, 2, 48, 1680384}
	checkCounts(t, 0, orders, lattice)
	// R. Dedekind's numbers of monotone sets, The On-Line Encyclopedia of Integer
	// Sequences, A000372, n = 0 to 4: from memory.
	for n, want := range []int{2, 3, 6, 20, 168} {
		if got := count(t, lattice(n)).Sets; got != want {
			t.Errorf("n=%d: %d sets, want %d", n, got, want)
		}
	}
}

// lattice has the subsets of n things as steps, each after its own subsets.
func lattice(n int) *precedence.System {
	s := precedence.New(1 << n)
	for set := range 1 << n {
		for bit := 1; bit < 1<<n; bit <<= 1 {
			if set&bit == 0 {
				s.Need(set, set|bit)
			}
		}
	}
	return s
}

// grid has the points of an a by b by c box as steps, each after its neighbours
// nearer to the origin.
func grid(a, b, c int) *precedence.System {
	s := precedence.New(a * b * c)
	at := func(x, y, z int) int { return (x*b+y)*c + z }
	for x := range a {
		for y := range b {
			for z := range c {
				if x > 0 {
					s.Need(at(x-1, y, z), at(x, y, z))
				}
				if y > 0 {
					s.Need(at(x, y-1, z), at(x, y, z))
				}
				if z > 0 {
					s.Need(at(x, y, z-1), at(x, y, z))
				}
			}
		}
	}
	return s
}

func TestGrids(t *testing.T) {
	t.Run("2xn", func(t *testing.T) {
		// The On-Line Encyclopedia of Integer Sequences, A000108 (Catalan
		// numbers), from memory.
		want := []int64{1, 2, 5, 14, 42, 132, 429, 1430, 4862, 16796}
		checkCounts(t, 1, want, func(n int) *precedence.System { return grid(1, 2, n) })
	})
	t.Run("2x2xn", func(t *testing.T) {
		// The On-Line Encyclopedia of Integer Sequences, A114714 (linear
		// extensions of a 2 X 2 X n lattice).
		want := []int64{2, 48, 2452, 183958, 17454844}
		checkCounts(t, 1, want, func(n int) *precedence.System { return grid(2, 2, n) })
	})
	t.Run("3x2xn", func(t *testing.T) {
		// The On-Line Encyclopedia of Integer Sequences, A114716 (linear
		// extensions of a 3 X 2 X n lattice).
		want := []int64{5, 2452, 4877756}
		checkCounts(t, 1, want, func(n int) *precedence.System { return grid(3, 2, n) })
	})
}

func TestPosetN(t *testing.T) {
	// a before c, b before c, b before d: 5 orders, the example in The On-Line
	// Encyclopedia of Integer Sequences, A160371.
	checkOrders(t, example{n: 4, needs: [][2]int{{1, 3}, {2, 3}, {2, 4}}}.system(), 5)
}

func TestMobiles(t *testing.T) {
	// {3i-2 < 3i-1 < 3i} for i = 1 to n and {3i > 3i+2} for i = 1 to n-1: The
	// On-Line Encyclopedia of Integer Sequences, A332471.
	want := []int64{1, 16, 1036, 174664, 60849880}
	checkCounts(t, 1, want, func(n int) *precedence.System {
		e := example{n: 3 * n}
		for i := 1; i <= n; i++ {
			e.needs = append(e.needs, [2]int{3*i - 2, 3*i - 1}, [2]int{3*i - 1, 3 * i})
			if i < n {
				e.needs = append(e.needs, [2]int{3*i + 2, 3 * i})
			}
		}
		return e.system()
	})
}

// The precedence graphs of A. Scholl, Data of assembly line balancing problems,
// Schriften zur Quantitativen Betriebswirtschaftslehre 16/93, TH Darmstadt, 1993.
// strength is the order strength in percent, 100 times all direct and indirect
// pairs over n(n-1)/2, as printed in the description of that data set (SALBP Data
// Sets). pairs, orders and sets (down-closed sets) are computed here.
var lines = []struct {
	name     string
	strength float64
	pairs    int
	orders   string
	sets     int
	example
}{
	{"Mertens", 52.38, 11, "45", 22, example{n: 7, needs: [][2]int{
		{1, 2}, {1, 4}, {2, 3}, {2, 5}, {4, 7}, {5, 6},
	}}},
	{"Bowman", 75, 21, "16", 16, example{n: 8, needs: [][2]int{
		{1, 2}, {2, 3}, {2, 4}, {3, 5}, {3, 6}, {4, 6}, {5, 7}, {6, 8},
	}}},
	{"Jaeschke", 83.33, 30, "24", 18, example{n: 9, needs: [][2]int{
		{1, 2}, {1, 3}, {2, 4}, {3, 4}, {4, 5}, {4, 6}, {4, 7}, {5, 8}, {6, 9}, {7, 9}, {8, 9},
	}}},
	{"Jackson", 58.18, 32, "756", 52, example{n: 11, needs: [][2]int{
		{1, 2}, {1, 3}, {1, 4}, {1, 5}, {2, 6}, {3, 7}, {4, 7}, {5, 7}, {6, 8}, {7, 9}, {8, 10},
		{9, 11}, {10, 11},
	}}},
	{"Mansoor", 60, 33, "550", 47, example{n: 11, needs: [][2]int{
		{1, 4}, {2, 4}, {2, 5}, {3, 11}, {4, 6}, {5, 7}, {6, 8}, {7, 9}, {8, 10}, {9, 10}, {10, 11},
	}}},
	{"Mitchell", 70.95, 149, "1449624", 200, example{n: 21, needs: [][2]int{
		{1, 2}, {1, 3}, {2, 21}, {3, 4}, {4, 5}, {4, 21}, {5, 6}, {5, 7}, {6, 8}, {7, 8}, {7, 14},
		{8, 9}, {9, 10}, {9, 11}, {9, 12}, {9, 13}, {10, 15}, {11, 15}, {12, 15}, {13, 17}, {13, 18},
		{14, 19}, {15, 16}, {15, 18}, {16, 17}, {17, 20}, {18, 19},
	}}},
	{"Kilbridge", 44.55, 441, "198328699307040961787398932480", 626575, example{n: 45, needs: [][2]int{
		{1, 3}, {1, 7}, {2, 4}, {2, 8}, {3, 5}, {4, 6}, {5, 9}, {6, 10}, {7, 9}, {7, 14}, {8, 10},
		{8, 14}, {9, 41}, {10, 41}, {11, 13}, {12, 13}, {12, 37}, {13, 14}, {13, 15}, {14, 17},
		{14, 25}, {14, 29}, {14, 30}, {14, 31}, {14, 32}, {15, 16}, {15, 18}, {15, 23}, {15, 24},
		{16, 19}, {17, 26}, {17, 27}, {18, 19}, {19, 20}, {19, 33}, {20, 21}, {21, 22}, {22, 28},
		{23, 33}, {24, 33}, {25, 26}, {26, 38}, {27, 28}, {27, 33}, {28, 38}, {29, 41}, {30, 41},
		{31, 41}, {32, 41}, {33, 34}, {33, 35}, {33, 36}, {34, 38}, {35, 40}, {36, 38}, {37, 43},
		{38, 40}, {39, 41}, {40, 41}, {41, 42}, {42, 44}, {42, 45},
	}}},
}

func TestLineOrderStrength(t *testing.T) {
	for _, l := range lines {
		t.Run(l.name, func(t *testing.T) {
			f := l.system().Freedom(0)
			before, after := 0, 0
			for v := range l.n {
				before += len(f.Before(v))
				after += len(f.After(v))
			}
			if before != l.pairs || after != l.pairs {
				t.Errorf("%d pairs before, %d after, want %d", before, after, l.pairs)
			}
			strength := 100 * float64(before) / float64(l.n*(l.n-1)/2)
			if math.Abs(strength-l.strength) > 0.005001 {
				t.Errorf("order strength %.4f, want %.2f", strength, l.strength)
			}
		})
	}
}

func TestLineCounts(t *testing.T) {
	for _, l := range lines {
		t.Run(l.name, func(t *testing.T) {
			c := count(t, l.system())
			if c.Orders.String() != l.orders {
				t.Errorf("%v orders, want %s", c.Orders, l.orders)
			}
			if c.Sets != l.sets {
				t.Errorf("%d sets, want %d", c.Sets, l.sets)
			}
		})
	}
}

// Waiting conditions after R. H. Moehring, M. Skutella and F. Stork, "Scheduling
// with AND/OR precedence constraints", SIAM Journal on Computing 33(2), 2004,
// 393-415: a job may start only after at least one of a set. With time reversed
// that is a clause: the job comes before at least one of the set. That an order
// exists unless some jobs all wait for one another is their theorem, from memory;
// the examples and their numbers are computed here.
var waiting = []struct {
	name   string
	orders int64
	stuck  []int // from 1
	example
}{
	{"one condition", 4, nil, example{n: 3, clauses: []either{{3, []int{1, 2}}}}},
	{"ring broken by the choice", 2, nil, example{n: 4, clauses: []either{
		{1, []int{2, 4}}, {2, []int{1}}, {3, []int{1}},
	}}},
	{"all wait for one another", 0, []int{1, 2, 3}, example{n: 3, clauses: []either{
		{1, []int{2, 3}}, {2, []int{1}}, {3, []int{1}},
	}}},
	{"two conditions on one job", 10, nil, example{n: 4, clauses: []either{
		{4, []int{1, 2}}, {4, []int{3}},
	}}},
	{"one after the other", 10, nil, example{n: 4, clauses: []either{
		{3, []int{1, 2}}, {4, []int{2, 3}},
	}}},
}

func TestWaitingConditions(t *testing.T) {
	for _, w := range waiting {
		t.Run(w.name, func(t *testing.T) {
			s := w.system()
			checkOrders(t, s, w.orders)
			if got := from1(s.Stuck()); !slices.Equal(got, w.stuck) {
				t.Errorf("stuck %v, want %v", got, w.stuck)
			}
			if order, _ := s.Order(nil); order != nil {
				slices.Reverse(order)
				w.checkStarts(t, from1(order))
			}
		})
	}
}

// checkStarts checks that in the order, in the sequence of the paper, each job
// starts after at least one job of each of its conditions.
func (e example) checkStarts(t *testing.T, order []int) {
	t.Helper()
	for _, cl := range e.clauses {
		earlier := order[:slices.Index(order, cl.step)]
		if !slices.ContainsFunc(cl.oneOf, func(m int) bool { return slices.Contains(earlier, m) }) {
			t.Errorf("order %v: %d starts before all of %v", order, cl.step, cl.oneOf)
		}
	}
}
