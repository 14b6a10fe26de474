package blocking

import "slices"

// stretch is a piece of a sample line that lies within a piece of the model.
type stretch struct {
	piece              int32
	enter, leave       uint32  // depth codes
	enterCos, leaveCos float32 // between the line and the surface's normal
}

// column is what one sample line meets, in order of entry.
type column struct {
	stretches []stretch
	// pieces lists those met, once each; first and last are indices of stretches.
	pieces []met
	broken []int32 // pieces left out: their surface is not closed along this line

	winding []int32 // of each piece of the model, 0 between columns
	open    []int32 // of each piece: its open stretch
	seen    []int32 // of each piece: its index in pieces
}

type met struct{ piece, first, last int32 }

func newColumn(pieces int) *column {
	return &column{winding: make([]int32, pieces), open: make([]int32, pieces), seen: make([]int32, pieces)}
}

// read walks along the sorted events of one sample line. The line is inside a
// piece where it has entered it more often than left it, or the other way round.
func (c *column) read(events []event) {
	c.stretches, c.pieces, c.broken = c.stretches[:0], c.pieces[:0], c.broken[:0]
	for _, e := range events {
		p := int32(e.piece())
		before := c.winding[p]
		if e.leaving() {
			c.winding[p]--
		} else {
			c.winding[p]++
		}
		switch {
		case before == 0:
			c.open[p] = int32(len(c.stretches))
			c.stretches = append(c.stretches, stretch{piece: p, enter: e.depth(), enterCos: float32(e.cosine())})
		case c.winding[p] == 0:
			s := &c.stretches[c.open[p]]
			s.leave, s.leaveCos = e.depth(), float32(e.cosine())
		}
	}
	for _, e := range events {
		if p := int32(e.piece()); c.winding[p] != 0 {
			c.winding[p] = 0
			c.broken = append(c.broken, p)
		}
	}
	if len(c.broken) > 0 {
		c.stretches = slices.DeleteFunc(c.stretches, func(s stretch) bool { return slices.Contains(c.broken, s.piece) })
	}
	c.list()
}

// list notes the first and last stretch of each piece.
func (c *column) list() {
	for i := range c.stretches {
		p := c.stretches[i].piece
		if n := c.seen[p]; int(n) < len(c.pieces) && c.pieces[n].piece == p {
			c.pieces[n].last = int32(i)
			continue
		}
		c.seen[p] = int32(len(c.pieces))
		c.pieces = append(c.pieces, met{p, int32(i), int32(i)})
	}
}

// strip is the events of a few rows, sorted by sample line.
type strip struct {
	events []event
	start  []int32 // pixel -> its first event
	buf    []event
}

// load takes the events that the workers have collected for one strip.
func (s *strip) load(lists []*chunks, pixels int, pool *chunkPool) {
	total := 0
	for _, l := range lists {
		total += l.count()
	}
	s.start = append(s.start[:0], make([]int32, pixels+1)...)
	s.buf = s.buf[:0]
	for _, l := range lists {
		l.drain(pool, func(list []event) {
			s.buf = append(s.buf, list...)
			for _, e := range list {
				s.start[e.pixel()+1]++
			}
		})
	}
	for i := range pixels {
		s.start[i+1] += s.start[i]
	}
	s.events = slices.Grow(s.events[:0], total)[:total]
	for _, e := range s.buf {
		p := e.pixel()
		s.events[s.start[p]] = e
		s.start[p]++
	}
	copy(s.start[1:], s.start[:pixels])
	s.start[0] = 0
}

// sort takes events and sorts them by sample line.
func (s *strip) sort(list []event, pixels int) {
	s.start = cleared(s.start, pixels+2)
	for _, e := range list {
		s.start[e.pixel()+2]++
	}
	for i := 1; i < len(s.start); i++ {
		s.start[i] += s.start[i-1]
	}
	s.events = slices.Grow(s.events[:0], len(list))[:len(list)]
	for _, e := range list {
		p := e.pixel() + 1
		s.events[s.start[p]] = e
		s.start[p]++
	}
}

// line returns the events of one sample line, sorted.
func (s *strip) line(pixel int) []event {
	list := s.events[s.start[pixel]:s.start[pixel+1]]
	if len(list) > 24 {
		slices.Sort(list)
		return list
	}
	for i := 1; i < len(list); i++ {
		e := list[i]
		k := i
		for k > 0 && list[k-1] > e {
			list[k] = list[k-1]
			k--
		}
		list[k] = e
	}
	return list
}

// telling reports whether a line is of use: it meets two pieces, or one that is
// not closed.
func telling(line []event) bool {
	switch len(line) {
	case 0:
		return false
	case 2:
		return line[0].piece() != line[1].piece() || line[0].leaving() == line[1].leaving()
	}
	return true
}
