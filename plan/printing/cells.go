package printing

import "math"

// cells is a bed of square cells, for pieces with any outline. Each cell knows how far
// it is to where its row changes, so that a span is tested at once, and a place that
// is taken is passed in one step (bottom-left filling: E. K. Burke, R. Hellier,
// G. Kendall and G. Whitwell, "A new bottom-left-fill heuristic algorithm for the
// two-dimensional irregular packing problem", Operations Research 54, 2006; here on
// cells).
type cells struct {
	cell  float64
	w, h  int
	run   []int16 // free cells from here on to the right; of taken ones, less than 0
	start map[*Outline]*[4]int
	work  int // rows tested so far
}

func newCells(w, d, cell float64) *cells {
	side := func(v float64) int { return min(max(int(math.Floor(v/cell+1e-6)), 0), maxCells) }
	c := &cells{cell: cell, w: side(w), h: side(d), start: map[*Outline]*[4]int{}}
	c.run = make([]int16, c.w*c.h)
	for x := range min(c.w, len(c.run)) {
		c.run[x] = int16(c.w - x)
	}
	for y := 1; y < c.h; y++ {
		copy(c.run[y*c.w:], c.run[:c.w])
	}
	return c
}

// place is where an outline may go, in cells, and how it is turned.
type place struct{ x, y, quarters int }

// find looks for the lowest place: the one that reaches least far from the front, and
// among those the leftmost. A bed only fills, so it goes on where it found none before.
func (c *cells) find(o *Outline) (best place, ok bool) {
	from := c.start[o]
	if from == nil {
		from = new([4]int)
		c.start[o] = from
	}
	most := math.MaxInt
	left := 0
	for k := range o.stamps() {
		s := &o.turns[k]
		if s.same {
			continue
		}
		h := len(s.mask.Rows)
		for y := from[k]; y+h <= c.h; y++ {
			if y+h > most {
				break
			}
			x := c.across(&s.mask, y)
			if x < 0 {
				from[k] = y + 1
				continue
			}
			if y+h < most || x < left {
				best, ok, most, left = place{x, y, k}, true, y+h, x
			}
			from[k] = y
			break
		}
	}
	return best, ok
}

// across is the leftmost place for a mask with its front at row y; -1 if there is none.
func (c *cells) across(m *Mask, y int) int {
	x, at, clear := 0, 0, 0
	for x+m.W <= c.w {
		c.work++
		row := c.run[(y+at)*c.w : (y+at+1)*c.w]
		next := x
		for _, s := range m.Rows[at] {
			if free := int(row[x+s.From]); free < s.To-s.From {
				taken := x + s.From + max(free, 0)
				next = taken - int(row[taken]) - s.From
				break
			}
		}
		if next > x {
			x, clear = next, 0 // the row that was in the way is tested first again
			continue
		}
		if clear++; clear == len(m.Rows) {
			return x
		}
		if at++; at == len(m.Rows) {
			at = 0
		}
	}
	return -1
}

// clear reports whether all cells of a mask are free at a place.
func (c *cells) clear(m *Mask, x, y int) bool {
	if x < 0 || y < 0 || x+m.W > c.w || y+len(m.Rows) > c.h {
		return false
	}
	for n, row := range m.Rows {
		for _, s := range row {
			if int(c.run[(y+n)*c.w+x+s.From]) < s.To-s.From {
				return false
			}
		}
	}
	return true
}

// take puts an outline at a place.
func (c *cells) take(o *Outline, p place) {
	s := o.stamp(p.quarters)
	c.cover(&s.taken, p.x-s.grow, p.y-s.grow, 0)
}

// cover marks a mask as taken, and wider cells more on the right and at the back.
func (c *cells) cover(m *Mask, x, y, wider int) {
	c.mark(m, x, y, wider, c.count)
}

// mark does so without counting the cells of the rows anew. done, if not nil, is told the
// stretch of each row that was marked.
func (c *cells) mark(m *Mask, x, y, wider int, done func(y, first, last int)) {
	for n, spans := range m.Rows {
		for at := max(y+n, 0); at <= min(y+n+wider, c.h-1); at++ {
			row := c.run[at*c.w : (at+1)*c.w]
			first, last := c.w, -1
			for _, s := range spans {
				for k := max(x+s.From, 0); k < min(x+s.To+wider, c.w); k++ {
					row[k] = -1
					first, last = min(first, k), max(last, k)
				}
			}
			if done != nil {
				done(at, first, last)
			}
		}
	}
}

// countAll counts the cells of all rows anew.
func (c *cells) countAll() {
	for y := range c.h {
		c.count(y, 0, c.w-1)
	}
}

// count counts the cells of a row anew, where a stretch of it was marked. What follows does
// not change, nor does what is in front of it, from where a cell knows what it knew.
func (c *cells) count(y, first, last int) {
	row := c.run[y*c.w : (y+1)*c.w]
	run := int16(0)
	if last+1 < c.w {
		run = row[last+1]
	}
	for k := last; k >= 0; k-- {
		switch {
		case row[k] < 0 && run < 0:
			run--
		case row[k] < 0:
			run = -1
		case run > 0:
			run++
		default:
			run = 1
		}
		if k < first && row[k] == run {
			return
		}
		row[k] = run
	}
}
