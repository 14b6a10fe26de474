package blocking

import (
	"context"
	"math"
)

// mention is what one sample line says of a pair.
type mention struct {
	slot int32
	bits uint8
}

// observer reads the strips of one view and fills a table.
type observer struct {
	view    *view
	depth   float64 // mm of overlap that still counts as touching
	touch   float64 // mm of gap that counts as touching
	contact bool    // measure gaps and contacts
	table   *tallies
	col     *column
	strip   strip
	broken  []int  // lines of each piece that were not closed
	only    []bool // if not nil, a pair must include one of these pieces
	lines   int32  // read so far, to number each line

	rows [2]mentions
}

// mentions is what the lines of one row say; line x says list[start[x]:start[x+1]].
type mentions struct {
	list  []mention
	start []int32
}

func newObserver(v *view, pieces int, depth, touch float64, contact bool) *observer {
	return &observer{view: v, depth: depth, touch: touch, contact: contact,
		table: newTallies(pieces), col: newColumn(pieces), broken: make([]int, pieces)}
}

// read reads a loaded strip. area is what it covers, without the row that it shares
// with the next strip, which is read only for its neighbourhood.
func (w *observer) read(ctx context.Context, a area, shared bool) {
	width := a.x1 - a.x0
	rows := a.y1 - a.y0
	if shared {
		rows++
	}
	for y := range rows {
		if ctx.Err() != nil {
			return
		}
		now := &w.rows[y&1]
		now.list, now.start = now.list[:0], now.start[:0]
		var before *mentions
		if y > 0 {
			before = &w.rows[1-y&1]
		}
		for x := range width {
			now.start = append(now.start, int32(len(now.list)))
			line := w.strip.line(y*width + x)
			if telling(line) {
				w.col.read(line)
				w.line(now, a.x0+x, a.y0+y, y < a.y1-a.y0)
			}
			if before != nil {
				w.square(now, before, x, w.lines+int32(y*width+x))
			}
		}
		now.start = append(now.start, int32(len(now.list)))
	}
	w.lines += int32(width * rows)
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

// square combines a line with the one before it and the two above.
func (w *observer) square(now, before *mentions, x int, line int32) {
	from := now.start[x]
	if int(from) == len(now.list) {
		return
	}
	for _, s := range before.list[before.start[x]:before.start[x+1]] {
		at := &w.table.slots[s.slot]
		at.above, at.aboveAt = s.bits, line
	}
	for _, s := range now.list[from:] {
		at := &w.table.slots[s.slot]
		if at.aboveAt != line {
			continue
		}
		both := s.bits & at.above
		if x > 0 && at.pairAtLine == line-1 {
			if at.done |= both & at.pair; at.done&at.single == at.single {
				at.tiles = nil
			}
		}
		at.pair, at.pairAtLine = both, line
	}
}

// line notes what one sample line says. own is false for the row shared with the
// next strip, which is measured there.
func (w *observer) line(now *mentions, x, y int, own bool) {
	c := w.col
	if own {
		for _, p := range c.broken {
			w.broken[p]++
		}
	}
	for i := range c.pieces {
		for j := i + 1; j < len(c.pieces); j++ {
			a, b := c.pieces[i], c.pieces[j]
			if a.piece > b.piece {
				a, b = b, a
			}
			if w.only != nil && !w.only[a.piece] && !w.only[b.piece] {
				continue
			}
			w.pair(now, a, b, x, y, own)
		}
	}
	if w.contact && own {
		w.gaps()
	}
}

func (w *observer) pair(now *mentions, a, b met, x, y int, own bool) {
	s := w.col.stretches
	at := w.table.slot(a.piece, b.piece)
	bits := order(s, a, b)
	if s[a.first].enter < s[b.last].leave && s[b.first].enter < s[a.last].leave {
		bits |= w.overlap(&w.table.slots[at], a, b, own)
	}
	bits = withClash(bits)
	slot := &w.table.slots[at]
	if bits&^slot.done == 0 {
		return
	}
	now.list = append(now.list, mention{at, bits})
	slot.single |= bits
	if tile := w.view.closeTile(x, y); len(slot.tiles) == 0 || slot.tiles[len(slot.tiles)-1] != tile {
		slot.tiles = append(slot.tiles, tile)
	}
}

// order tells which of two pieces lies above the other.
func order(s []stretch, a, b met) uint8 {
	var bits uint8
	if middle(s[b.last]) > middle(s[a.first]) {
		bits |= upper
	}
	if middle(s[a.last]) > middle(s[b.first]) {
		bits |= under
	}
	return bits
}

// middle is twice the depth of the middle of a stretch.
func middle(s stretch) uint32 { return s.enter + s.leave }

// overlap measures where two pieces overlap.
func (w *observer) overlap(at *tally, a, b met, own bool) uint8 {
	var bits uint8
	overlaps(w.col.stretches, a, b, func(long uint32, cos float32) {
		mm := float64(long) * w.view.step
		if deep := mm * float64(cos); deep > w.depth {
			bits = clashes
			at.deep = max(at.deep, deep)
		}
		if own {
			at.volume += int64(long)
		}
	})
	return bits
}

// overlaps calls do for each stretch that two pieces share, with its length and
// the smaller cosine of the faces at its ends.
func overlaps(s []stretch, a, b met, do func(long uint32, cos float32)) {
	for i := a.first; i <= a.last; i++ {
		if s[i].piece != a.piece {
			continue
		}
		for j := b.first; j <= b.last; j++ {
			if s[j].piece != b.piece || s[j].enter >= s[i].leave || s[i].enter >= s[j].leave {
				continue
			}
			in, inCos := s[i].enter, s[i].enterCos
			if s[j].enter > in {
				in, inCos = s[j].enter, s[j].enterCos
			}
			out, outCos := s[i].leave, s[i].leaveCos
			if s[j].leave < out {
				out, outCos = s[j].leave, s[j].leaveCos
			}
			do(out-in, min(inCos, outCos))
		}
	}
}

// gaps measures where pieces touch or nearly touch along the line.
func (w *observer) gaps() {
	s := w.col.stretches
	near := uint32(w.touch * nearTimes / w.view.step)
	for i := range s {
		for j := i + 1; j < len(s) && s[j].enter <= s[i].leave+near; j++ {
			if s[i].piece == s[j].piece || s[j].leave <= s[i].leave || w.only != nil && !w.only[s[i].piece] && !w.only[s[j].piece] {
				continue
			}
			cos := float64(min(s[i].leaveCos, s[j].enterCos))
			gap := (float64(s[j].enter) - float64(s[i].leave)) * w.view.step * cos
			if gap < -w.touch {
				continue
			}
			lo, hi := min(s[i].piece, s[j].piece), max(s[i].piece, s[j].piece)
			at := &w.table.slots[w.table.slot(lo, hi)]
			if g := max(gap, 0); cos > 0.3 && (at.near < 0 || g < at.near) {
				at.near = g
			}
			if gap <= w.touch {
				at.touch += int64(cos*255 + 0.5)
				at.gap += int64(math.Round(gap * cos * 1e9))
			}
		}
	}
}

// nearTimes is up to how many times the touching gap a gap is still measured.
const nearTimes = 5
