package rehearse

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// cell is a cube of a grid, 10 mm wide.
type cell [3]int

func (c cell) step(d cell) cell { return cell{c[0] + d[0], c[1] + d[1], c[2] + d[2]} }

// grid is a flat or a deep grid of cells, and what pieces are made of.
type grid struct {
	*rand.Rand
	sides  cell
	ways   []cell // along which pieces leave
	cells  [][]cell
	filled map[cell]int
}

// boxes makes the pieces of a kit of cells of a grid, each beside what it is fitted to if
// there is room, and measures what is in whose way. A piece without room has no mesh.
func boxes(r *rand.Rand, k *kits.Kit) (*grid, *plan.Geometry) {
	g := &grid{Rand: r, sides: cell{5, 1, 5}, ways: []cell{{1, 0, 0}, {-1, 0, 0}, {0, 0, 1}, {0, 0, -1}}, filled: map[cell]int{}}
	if r.IntN(2) == 0 {
		g.sides = cell{3, 3, 3}
		g.ways = append(g.ways, cell{0, 1, 0}, cell{0, -1, 0})
	}
	g.cells = make([][]cell, len(k.Pieces))
	for p := range k.Pieces {
		seat := -1
		if j := k.Fitted(p); j != nil {
			seat = j.Onto[0]
		} else if p > 0 {
			seat = r.IntN(p)
		}
		g.place(p, seat)
	}
	return g, g.measure()
}

// place fills one to three cells.
func (g *grid) place(piece, seat int) {
	for range 1 + g.IntN(3) {
		var free []cell
		near := g.cells[piece]
		if len(near) == 0 && seat >= 0 {
			near = g.cells[seat]
		}
		for _, c := range near {
			for _, d := range g.ways {
				if n := c.step(d); g.has(n) {
					free = append(free, n)
				}
			}
		}
		if near == nil && len(g.filled) == 0 {
			free = []cell{{g.sides[0] / 2, g.sides[1] / 2, g.sides[2] / 2}}
		}
		if len(free) == 0 {
			return
		}
		c := free[g.IntN(len(free))]
		g.filled[c] = piece
		g.cells[piece] = append(g.cells[piece], c)
	}
}

// has reports whether a cell of the grid is free.
func (g *grid) has(c cell) bool {
	_, full := g.filled[c]
	return !full && g.inside(c)
}

func (g *grid) inside(c cell) bool {
	return !slices.ContainsFunc([]int{0, 1, 2}, func(i int) bool { return c[i] < 0 || c[i] >= g.sides[i] })
}

func (g *grid) measure() *plan.Geometry {
	n := len(g.cells)
	m := &plan.Geometry{Measured: make([]bool, n), Sizes: make([][3]float64, n), Legs: map[int][]plan.Legs{}, Undercuts: map[int][]plan.Undercut{}}
	for _, d := range g.ways {
		m.Directions = append(m.Directions, geom.Vec{float64(d[0]), float64(d[1]), float64(d[2])})
		m.InTheWay = append(m.InTheWay, make([][]int32, n))
	}
	for p, cells := range g.cells {
		m.Measured[p] = len(cells) > 0
		m.Sizes[p] = extent(cells)
		for d, way := range g.ways {
			for _, c := range cells {
				for at := c.step(way); g.inside(at); at = at.step(way) {
					if q, full := g.filled[at]; full && q != p && !slices.Contains(m.InTheWay[d][p], int32(q)) {
						m.InTheWay[d][p] = append(m.InTheWay[d][p], int32(q))
					}
				}
			}
		}
	}
	return m
}

// moved moves a piece, as it is, to where there is room; nil if there is none.
func (g *grid) moved(piece int) *plan.Geometry {
	to := cell{g.IntN(5) - 2, g.IntN(5) - 2, g.IntN(5) - 2}
	var cells []cell
	for _, c := range g.cells[piece] {
		n := c.step(to)
		if q, full := g.filled[n]; !g.inside(n) || full && q != piece {
			return nil
		}
		cells = append(cells, n)
	}
	for _, c := range g.cells[piece] {
		delete(g.filled, c)
	}
	for _, c := range cells {
		g.filled[c] = piece
	}
	g.cells[piece] = cells
	return g.measure()
}

// extent is the size in mm of the box around some cells; 1 mm each way around none.
func extent(cells []cell) [3]float64 {
	out := [3]float64{1, 1, 1}
	for i := range out {
		low, high := 0, -1
		for n, c := range cells {
			if n == 0 {
				low, high = c[i], c[i]
			}
			low, high = min(low, c[i]), max(high, c[i])
		}
		if high >= low {
			out[i] = float64(10 * (high - low + 1))
		}
	}
	return out
}

// withService adds pieces that must stay in reach to the text of a kit. Openings and sizes
// grow to those of the cells.
func withService(r *rand.Rand, text string) string {
	if r.IntN(2) == 0 {
		return text
	}
	pieces := strings.Count(text, "{bought: true")
	by := ""
	if r.IntN(3) == 0 {
		by = fmt.Sprintf(", by-opening: [%c]", 'a'+r.IntN(pieces))
	}
	return text + fmt.Sprintf("service:\n  - {reach: %c%s}\n", 'a'+r.IntN(pieces), by)
}

// serves reports whether an item can be got at on the finished model, by trying to undo
// everything in every order.
func (b *brute) serves(s *kits.Service) bool {
	item := slices.IndexFunc(b.steps, func(v plan.Step) bool { return slices.Contains(v.Fits(), s.Reach) })
	var on set
	for v, step := range b.steps {
		if step.Wire == nil {
			on = on.with(v)
		}
	}
	b.asks = s
	defer func() { b.asks = nil }()
	return item < 0 || b.gotAt(item, on, map[set]bool{})
}

func (b *brute) gotAt(item int, on set, seen map[set]bool) bool {
	if seen[on] {
		return false
	}
	seen[on] = true
	if b.steps[item].Join.Opens && b.servedBy(item, on) || !b.steps[item].Join.Opens && b.alone(b.asks.Reach, on) {
		return true
	}
	for u := range b.steps {
		if u != item && on.has(u) && b.comesOff(u, on) && b.gotAt(item, on.without(u), seen) {
			return true
		}
	}
	return false
}

// servedBy: the item comes off, and by an opening that it is asked to come out by.
func (b *brute) servedBy(item int, on set) bool {
	if !b.comesOff(item, on) {
		return false
	}
	p := b.asks.Reach
	for _, s := range b.levels(func(s *kits.Space) bool { return holds(s, p) }) {
		if !b.openFor(s, p, b.steps[item].Join.Onto[0], on.without(item)) {
			return false
		}
	}
	return true
}

// openFor: of the openings of a space, those asked for if it has any, one lets the item out.
func (b *brute) openFor(s *kits.Space, p, seat int, on set) bool {
	named := *s
	named.ClosedBy = nil
	for _, c := range s.ClosedBy {
		for _, ref := range b.asks.ByOpening {
			if c.Piece >= 0 && b.k.Pieces[c.Piece].ID == ref.Name {
				named.ClosedBy = append(named.ClosedBy, c)
			}
		}
	}
	if named.ClosedBy == nil {
		named.ClosedBy = s.ClosedBy
	}
	for _, c := range named.ClosedBy {
		one := named
		if one.ClosedBy = []kits.Closer{c}; c.Piece == p {
			one.ClosedBy[0].Piece = -1 // it does not shut itself in
		}
		if b.open(&one, b.sizeOf(p), []int{seat}, on) {
			return true
		}
	}
	return false
}

// alone: the piece itself would get out of its spaces, and in one direction past all that it
// is joined to.
func (b *brute) alone(p int, on set) bool {
	for _, s := range b.levels(func(s *kits.Space) bool { return holds(s, p) }) {
		if !b.openFor(s, p, p, on) {
			return false
		}
	}
	if b.g == nil || len(b.g.Directions) == 0 {
		return true
	}
	others := func(o int) bool { return o != p && b.reaches(on, p, o) }
	for d := range b.g.Directions {
		if !b.meets(p, d, others) {
			return true
		}
	}
	return slices.ContainsFunc(b.g.Legs[p], func(l plan.Legs) bool {
		return !slices.ContainsFunc(l.InTheWay, func(o int32) bool { return others(int(o)) })
	})
}
