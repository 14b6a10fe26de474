package precedence_test

import (
	"math/big"
	"math/rand"
	"testing"

	"dryfit/plan/precedence"
)

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
