package demo_test

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan/explain"
)

// model is the kit with the lines along all three axes.
type model struct {
	*kits.Kit
	pieces [][]mesh.Triangle
	axes   [3]*columns
}

var once struct {
	sync.Once
	model
}

func measured(t *testing.T) *model {
	t.Helper()
	once.Do(func() {
		k := kit(t)
		m := model{Kit: k, pieces: triangles(k)}
		var crew sync.WaitGroup
		for a := range 3 {
			crew.Go(func() { m.axes[a] = along(t, a, m.pieces) })
		}
		crew.Wait()
		once.model = m
	})
	return &once.model
}

// No two pieces share more than 0.02 mm, measured along the axis along which they
// share least.
func TestPiecesDoNotOverlap(t *testing.T) {
	m := measured(t)
	const most = 0.02
	seen := map[[2]int]int{}
	for _, c := range m.axes {
		for line, list := range c.lines {
			for i, a := range list {
				for _, b := range list[i+1:] {
					if b.from > a.to-most {
						break
					}
					pair := [2]int{min(a.piece, b.piece), max(a.piece, b.piece)}
					if to := min(a.to, b.to); to-b.from > most && seen[pair] < 40 {
						seen[pair]++
						p := c.at(line, (b.from+to)/2)
						if d := m.shared(pair, p); d > most {
							t.Errorf("%s and %s overlap by %.3f mm at %.2f", m.Pieces[a.piece].ID, m.Pieces[b.piece].ID, d, p)
							seen[pair] = 40
						}
					}
				}
			}
		}
	}
}

// shared is the least of the lengths along the axes that two pieces share about a
// point.
func (m *model) shared(pair [2]int, p [3]float64) float64 {
	least := math.Inf(1)
	for axis := range 3 {
		from, to, in := within(m.pieces[pair[0]], axis, p)
		from2, to2, in2 := within(m.pieces[pair[1]], axis, p)
		if !in || !in2 {
			return 0
		}
		least = min(least, min(to, to2)-max(from, from2))
	}
	return least
}

// What is fitted lies against what it is fitted to, or within 0.1 mm of it, over at
// least a square millimetre.
func TestJoinsTouch(t *testing.T) {
	m := measured(t)
	touch := map[[2]int]float64{}
	for _, c := range m.axes {
		area := map[[2]int]float64{}
		for _, list := range c.lines {
			for i, a := range list {
				for _, b := range list[i+1:] {
					if b.from > a.to+0.1001 {
						break
					}
					if b.from > a.to-0.05 {
						area[[2]int{min(a.piece, b.piece), max(a.piece, b.piece)}] += pitch * pitch
					}
				}
			}
		}
		for pair, mm2 := range area {
			touch[pair] = max(touch[pair], mm2)
		}
	}
	for _, j := range m.Joins {
		if j.IsClose() {
			continue
		}
		for _, p := range j.Pieces {
			for _, o := range j.Onto {
				if mm2 := touch[[2]int{min(p, o), max(p, o)}]; mm2 < 1 {
					t.Errorf("%s touches %s over %.2f mm2", m.Pieces[p].ID, m.Pieces[o].ID, mm2)
				}
			}
		}
	}
}

// In the proven order each piece, with what was built on it, comes straight to its
// seat along the direction that the kit states, or along one of the axes.
func TestWaysInAreFree(t *testing.T) {
	m := measured(t)
	rep, err := explain.Check(m.Kit)
	if err != nil {
		t.Fatal(err)
	}
	if rep.Sequence == nil {
		t.Fatal("the kit has no order")
	}
	groups := newGroups(len(m.pieces))
	for _, v := range rep.Sequence.Order {
		j := rep.Constraints.Steps[v].Join
		if j == nil {
			continue
		}
		if j.IsClose() {
			m.comes(t, groups.of(j.Pieces[1]), groups.of(j.Pieces[0]), nil)
			groups.join(j.Pieces[0], j.Pieces[1])
			continue
		}
		there := groups.of(j.Onto[0])
		for _, p := range j.Pieces {
			m.comes(t, groups.of(p), there, j.Toward)
		}
		for _, p := range j.Pieces {
			groups.join(j.Onto[0], p)
		}
	}
}

// comes reports it if a group cannot come to another: along the direction of travel,
// or along any axis if none is stated.
func (m *model) comes(t *testing.T, moving, there []int, toward *[3]float64) {
	t.Helper()
	var barred []string
	for axis := range 3 {
		for _, sense := range []float64{-1, 1} {
			if toward != nil && (*toward)[axis]*sense <= 0 {
				continue
			}
			by := m.bars(moving, there, axis, sense)
			if by == "" {
				return
			}
			barred = append(barred, by)
		}
	}
	t.Errorf("%s cannot come to its seat: %s", m.Pieces[moving[0]].ID, strings.Join(barred, "; "))
}

// bars names what of a group stands where another passes on its way along an axis.
func (m *model) bars(moving, there []int, axis int, sense float64) string {
	const slack = 0.05
	stands := map[int]bool{}
	for _, p := range there {
		stands[p] = true
	}
	c := m.axes[axis]
	hit := map[[2]int]int{}
	for _, p := range moving {
		for _, line := range c.of[p] {
			list := c.lines[line]
			for _, a := range list {
				if a.piece != p {
					continue
				}
				for _, b := range list {
					if stands[b.piece] && (sense > 0 && b.from < a.to-slack || sense < 0 && b.to > a.from+slack) {
						hit[[2]int{p, b.piece}]++
					}
				}
			}
		}
	}
	most, worst := 0, ""
	for pair, n := range hit {
		if n > most {
			most, worst = n, fmt.Sprintf("%s meets %s on %d lines along axis %d, %+g", m.Pieces[pair[0]].ID, m.Pieces[pair[1]].ID, n, axis, sense)
		}
	}
	return worst
}

// groups are the pieces joined so far.
type groups []int

func newGroups(n int) groups {
	g := make(groups, n)
	for i := range g {
		g[i] = i
	}
	return g
}

func (g groups) of(p int) []int {
	var list []int
	for i, x := range g {
		if x == g[p] {
			list = append(list, i)
		}
	}
	return list
}

func (g groups) join(a, b int) {
	from, to := g[b], g[a]
	for i, x := range g {
		if x == from {
			g[i] = to
		}
	}
}
