package blocking_test

import (
	"fmt"
	"math/bits"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// fixture is a small assembly of cells with what is known of it: the axis directions
// in which each piece leaves alone while all others stay, and in how many sequences
// the pieces can be taken off one at a time along the axes.
type fixture struct {
	name   string
	pieces []string // cells, three digits each
	exits  []string // one a piece: "-x +z"
	orders int
}

// The first three four-part assemblies follow L. S. Homem de Mello and A. C.
// Sanderson (1990) in kind; the two burrs of six pieces are the two assemblies of
// the pieces 120 160 256 512 880 960, by the numbers of B. Cutler, "A Computer Analysis
// of All 6-Piece Burrs", 1994: a design of P. Dubois of level 6.4 in B. Cutler, "Holey
// 6-Piece Burr!", 1986 (numbers and design from memory). The cross is traditional.
// Exits and orders were found by exhaustive search.
var fixtures = []fixture{
	{"four-part product", []string{
		"004 014 024 104 114 124 204 214 224", // cap
		"111 112 113",                         // stick
		"001 002 003 011 012 013 021 022 023 101 102 103 121 122 123 201 202 203 211 212 213 221 222 223", // receptacle
		"000 010 020 100 110 120 200 210 220", // handle
	}, []string{"-x +x -y +y +z", "", "", "-x +x -y +y -z"}, 12},
	{"T-slot", []string{
		"101 111 121 131 201 202 211 212 221 222 231 232 301 311 321 331",
		"000 001 002 010 011 012 020 021 022 030 031 032 100 102 110 112 120 122 130 132 200 210 220 230 300 302 310 312 320 322 330 332 400 401 402 410 411 412 420 421 422 430 431 432",
	}, []string{"-y +y", "-y +y"}, 2},
	{"blind T-slot", []string{
		"111 121 131 211 212 221 222 231 232 311 321 331",
		"000 001 002 010 011 012 020 021 022 030 031 032 100 101 102 110 112 120 122 130 132 200 201 202 210 220 230 300 301 302 310 312 320 322 330 332 400 401 402 410 411 412 420 421 422 430 431 432",
	}, []string{"+y", "-y"}, 2},
	{"captive cube", []string{
		"000 001 010 011 020 021 100 101 110 120 121 200 201 210 211 220 221", // lower
		"002 012 022 102 112 122 202 212 222",                                 // upper
		"111",
	}, []string{"-z", "-x +x -y +y +z", ""}, 4},
	{"pinwheel", []string{
		"000 100 200", "300 310 320", "130 230 330", "010 020 030", "110 120 210 220",
	}, []string{"-x -y -z +z", "+x -y -z +z", "+x +y -z +z", "-x +y -z +z", "-z +z"}, 120},
	{"ball in a cage", []string{cage(), ball()}, []string{"", ""}, 0},
	{"cross", []string{
		"012 013 022 023 112 113 122 123 212 213 222 223 312 313 322 323 412 413 422 423 512 513 522 523",
		"201 202 211 221 231 241 251 252 301 302 311 321 331 341 351 352",
		"203 204 214 243 244 253 254 303 304 314 324 333 334 343 344 353 354",
		"120 121 124 125 130 131 132 133 134 135 220 224 225 230 233 234 235",
		"032 033 042 043 142 143 232 242 332 342 442 443 532 533 542 543",
		"320 325 330 335 420 421 424 425 430 431 432 433 434 435",
	}, []string{"-x +x", "", "", "", "", ""}, 8},
	{"burr of level 6", []string{
		"012 013 022 023 112 113 122 123 212 213 312 313 412 413 512 513 522 523",
		"032 033 042 043 142 143 232 242 243 332 342 343 442 443 532 533 542 543",
		"320 325 330 335 420 421 422 423 424 425 430 431 432 433 434 435",
		"201 202 211 221 241 251 252 301 302 311 321 331 341 351 352",
		"120 121 124 125 130 131 132 133 134 135 220 225 230 231 234 235",
		"203 204 214 244 253 254 303 304 314 324 333 334 344 353 354",
	}, []string{"", "", "", "", "", ""}, 0},
	{"burr that never comes apart", []string{
		"012 013 022 023 112 113 122 123 212 213 312 313 412 413 512 513 522 523",
		"320 322 323 325 330 335 420 421 422 423 424 425 430 431 432 433 434 435",
		"032 033 042 043 142 143 242 243 342 343 442 443 532 533 542 543",
		"201 202 211 221 241 251 252 301 302 311 321 331 341 351 352",
		"120 121 124 125 130 131 132 133 134 135 220 225 230 231 234 235",
		"203 204 214 244 253 254 303 304 314 324 333 334 344 353 354",
	}, []string{"", "", "", "", "", ""}, 0},
}

// cage is a hollow block of five cells a side with a window of one cell in the
// middle of each face; the ball fills it.
func cage() string {
	return block(func(x, y, z int) bool {
		inner := x > 0 && x < 4 && y > 0 && y < 4 && z > 0 && z < 4
		window := x == 2 && y == 2 || x == 2 && z == 2 || y == 2 && z == 2
		return !inner && !window
	})
}

func ball() string {
	return block(func(x, y, z int) bool { return x > 0 && x < 4 && y > 0 && y < 4 && z > 0 && z < 4 })
}

func block(in func(x, y, z int) bool) string {
	var words []string
	for x := range 5 {
		for y := range 5 {
			for z := range 5 {
				if in(x, y, z) {
					words = append(words, fmt.Sprintf("%d%d%d", x, y, z))
				}
			}
		}
	}
	return strings.Join(words, " ")
}

func (f *fixture) cells(edge float64, p pose) *cells {
	c := &cells{name: f.name, edge: edge, pose: p}
	for _, text := range f.pieces {
		c.pieces = append(c.pieces, meshtest.Cells(text))
	}
	return c
}

// poses: on the grid of samples, off it, turned by quarters, turned at random.
func poses() []pose {
	r := rand.New(rand.NewSource(7))
	return []pose{
		{"as it stands", meshtest.Identity, vec{}},
		{"moved", meshtest.Identity, vec{13.37, -5.21, 107.77}},
		{"turned by quarters", [3][3]float64{{0, 0, 1}, {1, 0, 0}, {0, 1, 0}}, vec{-4, 8, 1}},
		{"turned at random", meshtest.RandomRotation(r), vec{3.3, 4.4, 5.5}},
		{"turned at random, far away", meshtest.RandomRotation(r), vec{-310, 220, 40}},
	}
}

// somePoses are all poses where tests run in full, and elsewhere as it stands and turned
// at random.
func somePoses(t *testing.T) []pose {
	t.Helper()
	return kitstest.Some(t, 3, poses())
}

// TestFixtures checks every fixture in every pose, small, as it is and large, at the
// pitch that the package chooses.
func TestFixtures(t *testing.T) {
	type placing struct {
		pose int
		edge float64
	}
	placings := kitstest.Some(t, 9, []placing{{3, 2}, {0, 2}, {1, 2}, {2, 2}, {4, 2}, {0, 0.2}, {3, 0.2}, {0, 20}, {3, 20}})
	for _, f := range fixtures {
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			for _, at := range placings {
				c := f.cells(at.edge, poses()[at.pose])
				m := measured(t, blocking.Settings{}, c.triangles()...)
				checkCells(t, m, c)
				checkFixture(t, m, &f, c)
				if t.Failed() {
					return
				}
			}
		})
	}
}

// checkFixture compares exits, the number of orders and the disassembly with what
// is known.
func checkFixture(t *testing.T, m *blocking.Model, f *fixture, c *cells) {
	where := fmt.Sprintf("%s, edge %g, pitch %.3g", c.pose.name, c.edge, m.Pitch)
	all := make([]int, len(c.pieces))
	for i := range all {
		all[i] = i
	}
	leaves := c.leavesIn(t, m)
	for i := range c.pieces {
		rest := slices.Delete(slices.Clone(all), i, i+1)
		var exits []string
		for k, name := range strings.Fields("+x -x +y -y +z -z") {
			if leaves([]int{i}, rest, axes[k]) {
				exits = append(exits, name)
			}
		}
		want := strings.Fields(f.exits[i])
		slices.Sort(want)
		slices.Sort(exits)
		if !slices.Equal(exits, want) {
			t.Errorf("%s: piece %d leaves alone along %v, want %v", where, i, exits, want)
		}
	}
	if n := orders(all, leaves); n != f.orders {
		t.Errorf("%s: %d orders, want %d", where, n, f.orders)
	}
	a := checkCellsApart(t, m, c)
	if f.orders > 0 && (len(a.Moves) != len(all)-1 || len(a.Locked) > 0) {
		t.Errorf("%s: %d moves, locked %v; want it fully apart", where, len(a.Moves), a.Locked)
	}
}

// leavesIn is what the model says of groups leaving along an axis of the cells.
func (c *cells) leavesIn(t testing.TB, m *blocking.Model) func(a, b []int, d vec) bool {
	number := map[vec]int{}
	for _, d := range axes {
		number[d] = along(t, m, c.toModel(d))
	}
	return func(a, b []int, d vec) bool {
		for _, p := range a {
			for _, q := range b {
				if m.Blocks(p, q, number[d]) != blocking.Free {
					return false
				}
			}
		}
		return true
	}
}

// TestNoGroupLeaves: the pieces of both burrs and the ball in its cage stay together
// whichever of them are pulled as a group, and they are called locked.
func TestNoGroupLeaves(t *testing.T) {
	some := somePoses(t)
	for _, f := range fixtures {
		if f.orders > 0 {
			continue
		}
		for _, p := range some {
			c := f.cells(2, p)
			m := measured(t, blocking.Settings{}, c.triangles()...)
			leaves := c.leavesIn(t, m)
			n := len(c.pieces)
			for mask := 1; mask < 1<<n-1; mask++ {
				var a, b []int
				for i := range n {
					if mask>>i&1 == 1 {
						a = append(a, i)
					} else {
						b = append(b, i)
					}
				}
				for _, d := range axes {
					if leaves(a, b, d) {
						t.Errorf("%s, %s: %v leaves along %v", f.name, p.name, a, d)
					}
				}
			}
		}
	}
}

// TestNeverApart: what no moves at all can part is locked as a whole.
func TestNeverApart(t *testing.T) {
	for _, f := range fixtures {
		if f.orders > 0 || f.name == "burr of level 6" {
			continue
		}
		c := f.cells(2, poses()[3])
		m := measured(t, blocking.Settings{}, c.triangles()...)
		a := checkCellsApart(t, m, c)
		if len(a.Moves) != 0 || len(a.Locked) != 1 || len(a.Locked[0].Pieces) != len(c.pieces) {
			t.Errorf("%s: %d moves, locked %v; want all locked", f.name, len(a.Moves), a.Locked)
		}
	}
}

// TestFourPartProduct counts the AND/OR graph of assembly plans from the meshes:
// groups that hold together, and ways to put each together from two by one straight
// move. L. S. Homem de Mello and A. C. Sanderson, "AND/OR graph representation of
// assembly plans", IEEE Trans. Robotics and Automation 6 (1990) 188-199.
func TestFourPartProduct(t *testing.T) {
	for _, p := range poses() {
		c := fixtures[0].cells(2, p)
		m := measured(t, blocking.Settings{}, c.triangles()...)
		leaves := c.leavesIn(t, m)
		touch := func(a, b int) bool {
			pair := m.Pair(a, b)
			return pair != nil && pair.Contact > 0.5*c.edge*c.edge
		}
		together := func(group []int) bool { return connected(group, touch) }
		if touch(0, 3) || !touch(0, 1) || !touch(0, 2) || !touch(1, 2) || !touch(1, 3) || !touch(2, 3) {
			t.Errorf("%s: contacts are not those of all pairs but cap and handle", p.name)
		}
		trees := map[uint]int{}
		ways := 0
		var count func(group []int) int
		count = func(group []int) int {
			key := uint(0)
			for _, i := range group {
				key |= 1 << i
			}
			if n, ok := trees[key]; ok {
				return n
			}
			n := 0
			if bits.OnesCount(key) == 1 {
				n = 1
			}
			for _, s := range splits(group, leaves, together) {
				ways++
				n += count(s[0]) * count(s[1])
			}
			trees[key] = n
			return n
		}
		if n := count([]int{0, 1, 2, 3}); len(trees) != 12 || ways != 15 || n != 8 {
			t.Errorf("%s: %d groups, %d ways to put them together, %d trees; want 12, 15, 8", p.name, len(trees), ways, n)
		}
	}
}

// connected reports whether a group holds together by contacts.
func connected(group []int, touch func(a, b int) bool) bool {
	seen := []int{group[0]}
	for i := 0; i < len(seen); i++ {
		for _, p := range group {
			if !slices.Contains(seen, p) && touch(seen[i], p) {
				seen = append(seen, p)
			}
		}
	}
	return len(seen) == len(group)
}

// TestCrossKey checks that the key leaves first, and alone.
func TestCrossKey(t *testing.T) {
	i := slices.IndexFunc(fixtures, func(f fixture) bool { return f.name == "cross" })
	for _, p := range somePoses(t) {
		c := fixtures[i].cells(2, p)
		m := measured(t, blocking.Settings{}, c.triangles()...)
		a := checkCellsApart(t, m, c)
		if len(a.Moves) != 5 || !slices.Equal(a.Moves[0].Pieces, []int{0}) {
			t.Fatalf("%s: %d moves, the first of %v; want 5, the first of the key", p.name, len(a.Moves), a.Moves[0].Pieces)
		}
		for _, move := range a.Moves {
			if len(move.Pieces) != 1 && len(move.Rest) != 1 {
				t.Errorf("%s: %v leaves %v; want one piece at a time", p.name, move.Pieces, move.Rest)
			}
		}
	}
}
