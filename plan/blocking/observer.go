package blocking

import "slices"

// observer reads the tiles of a look, for one worker.
type observer struct {
	*look
	found    []uint8            // by pair: a square of four lines agrees
	single   []uint8            // by pair: at least one line says so
	places   []place            // where single lines say what no square has
	measured map[int32]*measure // by pair
	broken   []int              // lines of each piece along which it is not closed

	local []int32   // of each piece: its place among those of a tile
	k     int       // how many those are
	table []int32   // by two places: a pair of the tile, plus one
	agree []uint8   // by two places: what all lines so far say
	count []uint8   // by two places: how many lines these are
	masks []uint8   // by pair of the tile and line: what it says
	sums  []measure // by pair of the tile
}

func newObserver(l *look) *observer {
	n := len(l.pairs.hi)
	return &observer{look: l, found: make([]uint8, n), single: make([]uint8, n), measured: map[int32]*measure{},
		broken: make([]int, len(l.m.Pieces)), local: make([]int32, len(l.m.Pieces))}
}

// probe accepts what the four lines of a probe agree on.
func (o *observer) probe(pieces []int32, each func(func(x, y int, col *column))) {
	k := len(pieces)
	for i, p := range pieces {
		o.local[p] = int32(i)
	}
	lines := 0
	each(func(_, _ int, col *column) {
		if lines++; lines == 1 {
			o.agree, o.count = zeros(o.agree, k*k), zeros(o.count, k*k)
		}
		o.notClosed(col)
		for i := range col.pieces {
			for _, b := range col.pieces[i+1:] {
				a := col.pieces[i]
				if a.piece > b.piece {
					a, b = b, a
				}
				at := int(o.local[a.piece])*k + int(o.local[b.piece])
				if int(o.count[at]) != lines-1 {
					continue // another line misses one of them
				}
				o.count[at]++
				bits := withClash(order(col.stretches, a, b))
				if lines > 1 {
					bits &= o.agree[at]
				}
				o.agree[at] = bits
			}
		}
	})
	if lines < 4 {
		return
	}
	for i, lo := range pieces {
		for j := i + 1; j < k; j++ {
			if bits := o.agree[i*k+j]; bits != 0 && o.count[i*k+j] == 4 {
				if at := o.pairs.index(lo, pieces[j]); at >= 0 {
					o.found[at] |= bits
				}
			}
		}
	}
}

// zeros is n zeros, in the given list if it is long enough.
func zeros(list []uint8, n int) []uint8 {
	if cap(list) < n {
		return make([]uint8, n)
	}
	clear(list[:n])
	return list[:n]
}

func (o *observer) notClosed(col *column) {
	for _, p := range col.broken {
		o.broken[p]++
	}
}

// overlap says whether two pieces clash along a line. If the line is the tile's own,
// what they share is added to sum.
func (o *observer) overlap(col *column, a, b met, sum *measure, own bool) (bits uint8) {
	s := col.stretches
	if s[a.first].enter >= s[b.last].leave || s[b.first].enter >= s[a.last].leave {
		return 0
	}
	overlaps(s, a, b, func(long uint32, cos float32) {
		deep := float64(long) * o.view.step * float64(cos)
		if deep > o.m.Depth {
			bits = withClash(clashes)
		}
		if own {
			sum.volume += int64(long)
			sum.deep = max(sum.deep, deep)
		}
	})
	return bits
}

// read reads all lines of a tile.
func (o *observer) read(t *tile, at area, each func(func(x, y int, col *column))) {
	o.enter(t)
	width := at.x1 - at.x0
	o.masks = zeros(o.masks, len(t.pairs)*width*width)
	o.sums = slices.Grow(o.sums[:0], len(t.pairs))[:len(t.pairs)]
	for n := range o.sums {
		o.sums[n] = measure{near: -1}
	}
	each(func(x, y int, col *column) {
		own := x < at.x1-lookAfter && y < at.y1-lookAfter
		if own {
			o.notClosed(col)
		}
		for i := range col.pieces {
			for _, b := range col.pieces[i+1:] {
				a := col.pieces[i]
				if a.piece > b.piece {
					a, b = b, a
				}
				if n := o.pair(a.piece, b.piece); n >= 0 {
					bits := withClash(order(col.stretches, a, b))
					if o.pairs.clash[t.pairs[n]] {
						bits |= o.overlap(col, a, b, &o.sums[n], own)
					}
					o.masks[(n*width+y-at.y0)*width+x-at.x0] = bits
				}
			}
		}
		if o.contact && own {
			o.gaps(col)
		}
	})
	for n, i := range t.pairs {
		if o.sums[n] != (measure{near: -1}) {
			o.of(i).add(&o.sums[n])
		}
		o.conclude(i, o.masks[n*width*width:(n+1)*width*width], width, at)
	}
}

// enter prepares the table of the pairs of a tile.
func (o *observer) enter(t *tile) {
	o.k = 0
	for _, i := range t.pairs {
		o.local[o.list[i].lo], o.local[o.list[i].hi] = -1, -1
	}
	for _, i := range t.pairs {
		for _, p := range []int32{o.list[i].lo, o.list[i].hi} {
			if o.local[p] < 0 {
				o.local[p] = int32(o.k)
				o.k++
			}
		}
	}
	o.table = cleared(o.table, o.k*o.k)
	for n, i := range t.pairs {
		o.table[int(o.local[o.list[i].lo])*o.k+int(o.local[o.list[i].hi])] = int32(n + 1)
	}
}

// pair is the place of a pair in the tile, -1 if it is not asked for there.
func (o *observer) pair(lo, hi int32) int {
	return int(o.table[int(o.local[lo])*o.k+int(o.local[hi])]) - 1
}

// conclude accepts what squares of lines agree on, and notes where single lines
// say more.
func (o *observer) conclude(i int32, mask []uint8, width int, at area) {
	var single, found uint8
	for y := range width {
		for x := range width {
			here := mask[y*width+x]
			if here == 0 {
				continue
			}
			if x < width-1 && y < width-1 {
				single |= here
				found |= here & mask[y*width+x+1] & mask[(y+1)*width+x] & mask[(y+1)*width+x+1]
			}
		}
	}
	o.found[i] |= found
	o.single[i] |= single
	open := single &^ found &^ o.pairs.found[i]
	if open == 0 {
		return
	}
	for y := range width - 1 {
		for x := range width - 1 {
			if mask[y*width+x]&open == 0 {
				continue
			}
			p := place{o.view.closeTile(at.x0+x, at.y0+y), i}
			if n := len(o.places); n == 0 || o.places[n-1] != p {
				o.places = append(o.places, p)
			}
		}
	}
}

// of is the measure of a pair.
func (o *observer) of(i int32) *measure {
	s := o.measured[i]
	if s == nil {
		s = &measure{near: -1}
		o.measured[i] = s
	}
	return s
}

// gaps measures where pieces touch or nearly touch along a line.
func (o *observer) gaps(col *column) {
	s := col.stretches
	touch := o.m.Touch
	near := uint32(touch * nearTimes / o.view.step)
	for i := range s {
		for j := i + 1; j < len(s) && s[j].enter <= s[i].leave+near; j++ {
			if s[i].piece == s[j].piece || s[j].leave <= s[i].leave {
				continue
			}
			n := o.pair(min(s[i].piece, s[j].piece), max(s[i].piece, s[j].piece))
			if n < 0 {
				continue
			}
			cos := float64(min(s[i].leaveCos, s[j].enterCos))
			gap := (float64(s[j].enter) - float64(s[i].leave)) * o.view.step * cos
			if gap < -touch {
				continue
			}
			at := &o.sums[n]
			if cos > 0.3 {
				at.closer(max(gap, 0))
			}
			if gap <= touch {
				at.contact(gap, cos)
			}
		}
	}
}

// nearTimes is up to how many times the touching gap a gap is still measured.
const nearTimes = 5

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

// overlaps calls do for each stretch that two pieces share, with its length and
// the smaller cosine of the faces at its ends.
func overlaps(s []stretch, a, b met, do func(long uint32, cos float32)) {
	for i := a.first; i <= a.last; i++ {
		if s[i].piece != a.piece {
			continue
		}
		for j := b.first; j <= b.last && s[j].enter < s[i].leave; j++ {
			if s[j].piece != b.piece || s[i].enter >= s[j].leave {
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
