package grid

import (
	"context"
	"slices"
)

// search looks for a way out of a grid for a body of cells, by legs towards
// neighbouring cells: first all places within one leg, then two.
type search struct {
	body   []bodyRow
	rest   *Grid
	smears []*Grid // of each step: the cells from which it leads into the rest
	steps  [][3]int
	size   [3]int // of the lattice of places searched
	origin [3]int // of the place where the body sits
	been   []uint64
	places []place
}

// Bounds of the search.
const (
	MaxLegs   = 4      // of a way
	maxPlaces = 40_000 // that are searched
)

// bodyRow is the cells of the body in one row, the first at w.
type bodyRow struct {
	u, v, w int
	bits    []uint64
}

// place is a place reached, with the one where its last leg began.
type place struct {
	at   [3]int
	from int32
	step int8
	legs int8
}

// Leg is one leg of a way: a step of the grid, repeated; 0 times for the last
// leg, which never ends.
type Leg struct {
	Step  [3]int
	Times int
}

// Out finds the legs of a way out for a body among the rest, using some of the
// steps. It prefers fewer legs, and returns nil if it finds none, or if the context
// ends first.
func Out(ctx context.Context, body, rest *Grid, steps [][3]int) []Leg {
	return newSearch(body, rest, steps).run(ctx)
}

func newSearch(body, rest *Grid, steps [][3]int) *search {
	s := &search{rest: rest, steps: steps}
	s.takeBody(body)
	for _, d := range s.steps {
		s.smears = append(s.smears, smear(rest, d))
	}
	for k := range 3 {
		s.size[k] = 2*rest.n[k] + 1
		s.origin[k] = rest.n[k]
	}
	s.been = make([]uint64, (s.size[0]*s.size[1]*s.size[2]+63)/64)
	return s
}

// Steps lists the 26 steps to a neighbour, those along the axes first.
func Steps() [][3]int {
	var list [][3]int
	for x := -1; x <= 1; x++ {
		for y := -1; y <= 1; y++ {
			for z := -1; z <= 1; z++ {
				if x != 0 || y != 0 || z != 0 {
					list = append(list, [3]int{x, y, z})
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b [3]int) int {
		return a[0]*a[0] + a[1]*a[1] + a[2]*a[2] - b[0]*b[0] - b[1]*b[1] - b[2]*b[2]
	})
	return list
}

// takeBody lists the body's rows in an order that spreads over the body, so that
// a hit is found early.
func (s *search) takeBody(g *Grid) {
	for v := range g.n[1] {
		for u := range g.n[0] {
			row := g.row(u, v)
			first, last := -1, 0
			for i, w := range row {
				if w != 0 {
					if first < 0 {
						first = i
					}
					last = i
				}
			}
			if first >= 0 {
				s.body = append(s.body, bodyRow{u, v, first * 64, slices.Clone(row[first : last+1])})
			}
		}
	}
	spread := make([]bodyRow, 0, len(s.body))
	for i := range s.body {
		spread = append(spread, s.body[i*golden(len(s.body))%len(s.body)])
	}
	s.body = spread
}

// golden is a stride near the golden ratio of n that visits all of n.
func golden(n int) int {
	k := max(n*382/1000, 1)
	for gcd(k, n) > 1 {
		k++
	}
	return k
}

func gcd(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// smear fills the cells from which the given number of steps along d leads to a
// filled one.
func smear(g *Grid, d [3]int) *Grid {
	out := g.Clone()
	if d[0] == 0 && d[1] == 0 {
		for v := range g.n[1] {
			for u := range g.n[0] {
				smearRow(out.row(u, v), d[2])
			}
		}
		return out
	}
	for i := range g.n[1] {
		v := i
		if d[1] > 0 {
			v = g.n[1] - 1 - i
		}
		for k := range g.n[0] {
			u := k
			if d[0] > 0 {
				u = g.n[0] - 1 - k
			}
			if nu, nv := u+d[0], v+d[1]; nu >= 0 && nu < g.n[0] && nv >= 0 && nv < g.n[1] {
				shifted(out.row(u, v), out.row(nu, nv), -d[2])
			}
		}
	}
	return out
}

// smearRow fills all cells before the last filled one, or after the first.
func smearRow(row []uint64, d int) {
	var full uint64
	if d > 0 {
		for i := len(row) - 1; i >= 0; i-- {
			w := row[i]
			for k := 1; k < 64; k *= 2 {
				w |= w >> k
			}
			row[i] = w | full
			if w != 0 {
				full = ^uint64(0)
			}
		}
		return
	}
	for i := range row {
		w := row[i]
		for k := 1; k < 64; k *= 2 {
			w |= w << k
		}
		row[i] = w | full
		if w != 0 {
			full = ^uint64(0)
		}
	}
}

// hits reports whether the body, moved, meets filled cells.
func (s *search) hits(g *Grid, at [3]int) bool {
	for i := range s.body {
		b := &s.body[i]
		u, v := b.u+at[0], b.v+at[1]
		if u < 0 || u >= g.n[0] || v < 0 || v >= g.n[1] {
			continue
		}
		row := g.row(u, v)
		start := b.w + at[2]
		word, bit := start>>6, uint(start&63)
		for k, w := range b.bits {
			j := word + k
			if j >= 0 && j < len(row) && row[j]&(w<<bit) != 0 {
				return true
			}
			if j++; bit > 0 && j >= 0 && j < len(row) && row[j]&(w>>(64-bit)) != 0 {
				return true
			}
		}
	}
	return false
}

// run returns the legs of a way out, nil if it finds none.
func (s *search) run(ctx context.Context) []Leg {
	s.visit([3]int{})
	s.places = []place{{from: -1, step: -1}}
	for i := 0; i < len(s.places) && len(s.places) < maxPlaces && ctx.Err() == nil; i++ {
		p := s.places[i]
		if out := s.exit(p.at); out >= 0 {
			return s.way(i, out)
		}
		if p.legs >= MaxLegs-1 {
			continue
		}
		for n := range s.steps {
			if int8(n) != p.step {
				s.walk(i, n)
			}
		}
	}
	return nil
}

// walk goes from a place along a step until something is hit, and notes the new
// places.
func (s *search) walk(from, n int) {
	p := s.places[from]
	at := p.at
	for len(s.places) < maxPlaces {
		for k := range 3 {
			at[k] += s.steps[n][k]
			if at[k] < -s.origin[k] || at[k] > s.origin[k] {
				return
			}
		}
		if s.hits(s.rest, at) {
			return
		}
		if s.visit(at) {
			s.places = append(s.places, place{at, int32(from), int8(n), p.legs + 1})
		}
	}
}

// visit marks a place and reports whether it is new.
func (s *search) visit(at [3]int) bool {
	i := ((at[0]+s.origin[0])*s.size[1]+at[1]+s.origin[1])*s.size[2] + at[2] + s.origin[2]
	bit := uint64(1) << (i & 63)
	if s.been[i>>6]&bit != 0 {
		return false
	}
	s.been[i>>6] |= bit
	return true
}

// exit is a step along which the body leaves for good from a place, -1 if there is
// none.
func (s *search) exit(at [3]int) int {
	for n, g := range s.smears {
		if !s.hits(g, at) {
			return n
		}
	}
	return -1
}

// way lists the legs to a place, and out from it.
func (s *search) way(i, out int) []Leg {
	list := []Leg{{s.steps[out], 0}}
	for ; s.places[i].from >= 0; i = int(s.places[i].from) {
		p := s.places[i]
		step := s.steps[p.step]
		times := 0
		for k := range 3 {
			times = max(times, abs(p.at[k]-s.places[p.from].at[k]))
		}
		list = append(list, Leg{step, times})
	}
	slices.Reverse(list)
	return list
}

func abs(x int) int {
	if x < 0 {
		return -x
	}
	return x
}
