package precedence_test

import (
	"math"
	"slices"
	"testing"
)

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
