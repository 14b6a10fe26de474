package blocking_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"sync/atomic"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// TestCellScenes compares relations and disassemblies with exact answers for
// random pieces that interlock: a block of cells shared out among pieces that
// grow into it.
func TestCellScenes(t *testing.T) {
	var moves, ways, locks atomic.Int64
	t.Cleanup(func() {
		t.Logf("%d moves, %d of them by several legs; %d locked groups", moves.Load(), ways.Load(), locks.Load())
		if kitstest.Full() && (moves.Load() == 0 || locks.Load() == 0) {
			t.Error("not both came up")
		}
	})
	const batches = 10
	n := scenes(t, 300) / batches
	for batch := range batches {
		t.Run(fmt.Sprint(batch), func(t *testing.T) {
			t.Parallel()
			for i := range n {
				c := randomCells(rand.New(rand.NewSource(int64(batch*n + i))))
				c.name = fmt.Sprintf("scene %d", batch*n+i)
				m := measured(t, blocking.Settings{Pitch: 0.3}, c.triangles()...)
				checkCells(t, m, c)
				a := checkCellsApart(t, m, c)
				moves.Add(int64(len(a.Moves)))
				locks.Add(int64(len(a.Locked)))
				for _, move := range a.Moves {
					if len(move.Legs) > 1 {
						ways.Add(1)
					}
				}
				if t.Failed() {
					t.Logf("%s: edge %.3f, pieces %v", c.name, c.edge, c.pieces)
					return
				}
			}
		})
	}
}

// randomCells lets 2 to 6 pieces grow from seeds until most cells are taken.
func randomCells(r *rand.Rand) *cells {
	size := [3]int{2 + r.Intn(3), 2 + r.Intn(3), 3 + r.Intn(2)}
	pieces := make([][][3]int, 2+r.Intn(5))
	taken := map[[3]int]bool{}
	for i := range pieces {
		for {
			c := [3]int{r.Intn(size[0]), r.Intn(size[1]), r.Intn(size[2])}
			if !taken[c] {
				taken[c] = true
				pieces[i] = [][3]int{c}
				break
			}
		}
	}
	for range 8 * size[0] * size[1] * size[2] {
		i := r.Intn(len(pieces))
		c := pieces[i][r.Intn(len(pieces[i]))]
		c[r.Intn(3)] += 2*r.Intn(2) - 1
		inside := c[0] >= 0 && c[1] >= 0 && c[2] >= 0 && c[0] < size[0] && c[1] < size[1] && c[2] < size[2]
		if inside && !taken[c] {
			taken[c] = true
			pieces[i] = append(pieces[i], c)
		}
	}
	p := pose{"at random", meshtest.RandomRotation(r), times(50*r.Float64(), randomUnit(r))}
	if r.Intn(3) == 0 {
		p = pose{"upright", meshtest.Identity, vec{}}
	}
	return &cells{"", pieces, []float64{1, 1.5 + 2*r.Float64(), 4}[r.Intn(3)], p}
}

// checkCells compares every relation along every direction with the exact one.
func checkCells(t testing.TB, m *blocking.Model, c *cells) {
	t.Helper()
	checkDirections(t, m)
	for _, d := range axes {
		along(t, m, c.toModel(d))
	}
	for i, d := range m.Directions {
		s := c.sight(d, m.Pitch)
		for a := range c.pieces {
			for b := range c.pieces {
				if a == b {
					continue
				}
				want := s.blocks(c.pieces[a], c.pieces[b])
				if got := m.Blocks(a, b, i); !want.agrees(got) {
					t.Errorf("%s, %s, edge %g, pitch %g: %d leaves along %.6f (of the cells: %.6f) past %d: %s, want %s",
						c.name, c.pose.name, c.edge, m.Pitch, a, d, s.d, b, relation(got), want)
				}
			}
		}
	}
}

// checkCellsApart takes the model apart and pushes each move along exactly; what is
// called locked must not come apart by any straight move along the axes.
func checkCellsApart(t testing.TB, m *blocking.Model, c *cells) *blocking.Disassembly {
	t.Helper()
	a, err := m.Disassemble(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	checkAccount(t, m, a)
	for _, move := range a.Moves {
		if !c.wayFree(move.Pieces, move.Rest, move.Legs, mustSee*2*m.Pitch) {
			t.Errorf("%s, %s, edge %g: %v cannot leave %v by %+v", c.name, c.pose.name, c.edge, move.Pieces, move.Rest, move.Legs)
		}
	}
	for _, lock := range a.Locked {
		anyGroup := func([]int) bool { return true }
		for _, s := range splits(lock.Pieces, c.leavesAlong, anyGroup) {
			t.Errorf("%s, %s, edge %g: %v is called locked, but %v leaves %v", c.name, c.pose.name, c.edge, lock.Pieces, s[0], s[1])
		}
	}
	return a
}

// checkAccount follows the groups through the moves: each move parts a group that
// there is, ways are whole, and in the end a piece is alone or locked.
func checkAccount(t testing.TB, m *blocking.Model, a *blocking.Disassembly) {
	t.Helper()
	all := make([]int, len(m.Pieces))
	for i := range all {
		all[i] = i
	}
	groups := map[string]bool{fmt.Sprint(all): true}
	for _, move := range a.Moves {
		both := append(slices.Clone(move.Pieces), move.Rest...)
		slices.Sort(both)
		if !groups[fmt.Sprint(both)] || len(move.Pieces) == 0 || len(move.Rest) == 0 {
			t.Errorf("a move parts %v from %v, which are no group then; there are %v", move.Pieces, move.Rest, groups)
		}
		delete(groups, fmt.Sprint(both))
		groups[fmt.Sprint(sorted(move.Pieces))] = true
		groups[fmt.Sprint(sorted(move.Rest))] = true
		for i, leg := range move.Legs {
			if last := i == len(move.Legs)-1; math.Abs(norm(leg.Toward)-1) > 1e-9 || math.IsInf(leg.Distance, 1) != last || leg.Distance <= 0 {
				t.Errorf("%v leaves %v by a way that is not whole: %+v", move.Pieces, move.Rest, move.Legs)
			}
		}
		if len(move.Legs) == 0 {
			t.Errorf("%v leaves %v by no legs", move.Pieces, move.Rest)
		}
	}
	for _, lock := range a.Locked {
		if !groups[fmt.Sprint(sorted(lock.Pieces))] || len(lock.Pieces) < 2 {
			t.Errorf("%v is locked, but there is no such group; there are %v", lock.Pieces, groups)
		}
		delete(groups, fmt.Sprint(sorted(lock.Pieces)))
		checkHolds(t, m, lock)
	}
	for i := range m.Pieces {
		delete(groups, fmt.Sprint([]int{i}))
	}
	if len(groups) != 0 {
		t.Errorf("groups that are neither parted nor locked: %v", groups)
	}
}

// checkHolds checks that every reported hold is real, within the locked group,
// and every piece of it is held.
func checkHolds(t testing.TB, m *blocking.Model, lock blocking.Lock) {
	t.Helper()
	held := map[int]bool{}
	for _, h := range lock.Holds {
		held[h.Piece] = true
		if !slices.Contains(lock.Pieces, h.Piece) || !slices.Contains(lock.Pieces, h.By) {
			t.Errorf("locked %v, but %d is held by %d", lock.Pieces, h.Piece, h.By)
		} else if m.Blocks(h.Piece, h.By, along(t, m, h.Direction)) == blocking.Free {
			t.Errorf("%d is said to hold %d along %.4f, but does not", h.By, h.Piece, h.Direction)
		}
	}
	for _, p := range lock.Pieces {
		if !held[p] {
			t.Errorf("locked %v, but nothing is said to hold %d", lock.Pieces, p)
		}
	}
}

func sorted(list []int) []int {
	list = slices.Clone(list)
	slices.Sort(list)
	return list
}

// TestCellsOracle compares the exact answers with cases computed by hand.
func TestCellsOracle(t *testing.T) {
	c := &cells{"", [][][3]int{meshtest.Cells("000 100 001"), meshtest.Cells("200 101")}, 2, pose{"", meshtest.Identity, vec{}}}
	for _, w := range []struct {
		d    vec
		want verdict
	}{{vec{1, 0, 0}, blocked}, {vec{-1, 0, 0}, free}, {vec{0, 1, 0}, free}, {vec{0, 0, 1}, blocked}, {vec{0, 0, -1}, free}, {vec{1, 1, 0}, blocked}, {vec{0, 1, 1}, blocked}, {vec{-1, 0, -1}, free}} {
		if got := c.sight(unit(w.d), 0.3).blocks(c.pieces[0], c.pieces[1]); got != w.want {
			t.Errorf("along %v: %v, want %v", w.d, got, w.want)
		}
	}
	inf := math.Inf(1)
	for _, w := range []struct {
		legs []geom.Leg
		want bool
	}{
		{[]geom.Leg{{Toward: vec{0, 1, 0}, Distance: inf}}, true},
		{[]geom.Leg{{Toward: vec{1, 0, 0}, Distance: inf}}, false},
		{[]geom.Leg{{Toward: vec{0, 1, 0}, Distance: 1.9}, {Toward: vec{1, 0, 0}, Distance: inf}}, false},
		{[]geom.Leg{{Toward: vec{0, 1, 0}, Distance: 2}, {Toward: vec{1, 0, 0}, Distance: inf}}, true},
		{[]geom.Leg{{Toward: vec{1, 0, 0}, Distance: 0.2}, {Toward: vec{0, 1, 0}, Distance: inf}}, false},
	} {
		if got := c.wayFree([]int{0}, []int{1}, w.legs, 0.001); got != w.want {
			t.Errorf("way %v free: %v, want %v", w.legs, got, w.want)
		}
	}
	if !c.wayFree([]int{0}, []int{1}, []geom.Leg{{Toward: vec{1, 0, 0}, Distance: 0.2}, {Toward: vec{0, 1, 0}, Distance: inf}}, 0.3) {
		t.Error("a way that scrapes by 0.2 mm is not free with 0.3 mm of slack")
	}
}
