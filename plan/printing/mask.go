package printing

import (
	"cmp"
	"math"
	"slices"
)

// Span is cells of a row, from From up to and without To.
type Span struct{ From, To int }

// Mask is an area of cells: spans that neither touch nor overlap, in order, for each
// row from the front.
type Mask struct {
	W    int
	Rows [][]Span
}

// rectangle is a mask of all cells.
func rectangle(w, h int) Mask {
	m := Mask{W: w, Rows: make([][]Span, h)}
	whole := []Span{{0, w}}
	for y := range m.Rows {
		m.Rows[y] = whole
	}
	return m
}

// full reports whether the mask is of all cells, as those of boxes are.
func (m *Mask) full() bool {
	return !slices.ContainsFunc(m.Rows, func(row []Span) bool { return len(row) != 1 || row[0] != Span{0, m.W} })
}

// Cells counts the cells.
func (m *Mask) Cells() (n int) {
	for _, row := range m.Rows {
		for _, s := range row {
			n += s.To - s.From
		}
	}
	return n
}

// quarter is the mask turned by a right angle, counter-clockwise seen from above.
func (m *Mask) quarter() Mask {
	h := len(m.Rows)
	if m.full() {
		return rectangle(h, m.W)
	}
	out := Mask{W: h, Rows: make([][]Span, m.W)}
	for y := h - 1; y >= 0; y-- { // row y becomes column h-1-y
		x := h - 1 - y
		for _, s := range m.Rows[y] {
			for c := s.From; c < s.To; c++ {
				row := out.Rows[c]
				if n := len(row); n > 0 && row[n-1].To == x {
					row[n-1].To = x + 1
				} else {
					out.Rows[c] = append(row, Span{x, x + 1})
				}
			}
		}
	}
	for y := range out.Rows {
		out.share(y)
	}
	return out
}

// share keeps a row once that is as the one in front of it: most of them are, and a kit
// has thousands of outlines.
func (m *Mask) share(y int) {
	if y > 0 && slices.Equal(m.Rows[y], m.Rows[y-1]) {
		m.Rows[y] = m.Rows[y-1]
	}
}

func (m *Mask) equal(o *Mask) bool {
	return m.W == o.W && slices.EqualFunc(m.Rows, o.Rows, func(a, b []Span) bool { return slices.Equal(a, b) })
}

// grown is the mask with every cell that has a point nearer to it than a distance
// in cells. It reaches n cells farther on each side.
func (m *Mask) grown(distance float64) (out Mask, n int) {
	n = sideways(distance, 0)
	if n == 0 {
		return *m, 0
	}
	out = Mask{W: m.W + 2*n, Rows: make([][]Span, len(m.Rows)+2*n)}
	var all []Span
	full := m.full()
	for y := range out.Rows {
		if full { // the nearest row reaches farthest
			more := sideways(distance, max(n-y, 0, y-n-len(m.Rows)+1))
			out.Rows[y] = []Span{{n - more, m.W + n + more}}
			out.share(y)
			continue
		}
		all = all[:0]
		for from := max(y-2*n, 0); from <= min(y, len(m.Rows)-1); from++ {
			more := sideways(distance, y-n-from)
			for _, s := range m.Rows[from] {
				all = append(all, Span{s.From + n - more, s.To + n + more})
			}
		}
		out.Rows[y] = joinedSpans(all)
		out.share(y)
	}
	return out, n
}

// sideways is how many cells to the side of a cell, some rows up, have a point nearer to
// it than a distance.
func sideways(distance float64, rows int) int {
	up := max(math.Abs(float64(rows))-1, 0)
	if up >= distance {
		return 0
	}
	return int(math.Ceil(math.Sqrt(distance*distance-up*up) - 1e-9))
}

// joinedSpans unites spans that touch or overlap; the list given is sorted.
func joinedSpans(list []Span) (out []Span) {
	slices.SortFunc(list, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	for _, s := range list {
		if n := len(out); n > 0 && s.From <= out[n-1].To {
			out[n-1].To = max(out[n-1].To, s.To)
		} else {
			out = append(out, s)
		}
	}
	return out
}

// stamp is a mask as it is put on a bed: what must be free for it, and what is taken
// then, which reaches grow cells farther.
type stamp struct {
	mask, taken Mask
	grow        int
	same        bool // as the stamp turned by two right angles less
}

// stamps are the outline turned by no, one, two and three right angles.
func (o *Outline) stamps() *[4]stamp {
	o.once.Do(func() {
		m := o.Mask
		for k := range o.turns {
			s := &o.turns[k]
			s.mask = m
			s.same = k >= 2 && m.equal(&o.turns[k-2].mask)
			if !s.same {
				s.taken, s.grow = m.grown(o.grow / o.Cell)
			}
			m = m.quarter()
		}
		cells := o.turns[0].mask.Cells() + o.turns[0].taken.Cells()
		o.area = float64(cells) / 2 * o.Cell * o.Cell
	})
	return &o.turns
}

// stamp is the outline turned by some right angles.
func (o *Outline) stamp(quarters int) *stamp {
	all := o.stamps()
	if all[quarters].same {
		return &all[quarters-2]
	}
	return &all[quarters]
}

// Area is roughly how much of a bed the part takes up with its share of the gaps, mm2.
func (o *Outline) Area() float64 {
	o.stamps()
	return o.area
}
