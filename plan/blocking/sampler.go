package blocking

import (
	"context"

	"dryfit/kits/mesh"
	"dryfit/plan/bitset"
)

// tile is a square of lines to sample, and the pairs to look for in it, by their
// place in a list of questions.
type tile struct {
	id    int // row by row
	pairs []int32
}

// sampler samples the lines of a lattice in some tiles of a view. A tile comes
// with a margin of lines, which belong to its neighbours, so that what lies across
// a border is seen whole.
type sampler struct {
	m      *Model
	view   *view
	scan   scan
	size   int // lines across a tile
	before int // lines of margin at its low sides
	after  int // and at its high sides
	cols   int // tiles in a row
	lattice

	row0   int          // first row of tiles of the batch
	rows   int          // how many rows it covers
	number []int32      // tile from that row on -> its place in the batch plus one
	wanted []bitset.Set // of each piece: the places where it is wanted; nil for none
	start  []int32      // of each tile: its first event
	room   int          // tiles to take next, for about roomFor events
	*catch
}

// catch is what samplers need room for; one after the other uses it.
type catch struct {
	hauls  []haul  // of each worker
	events []event // by tile
	eyes   []*eye  // of each worker
}

const (
	firstTiles = 128
	roomFor    = 1_000_000 // events: about 20 MB
)

// learn adjusts how many tiles to take next to the events that these had.
func (s *sampler) learn(tiles int) {
	s.room = max(tiles*roomFor/max(len(s.events), 1), 8)
	s.room = min(s.room, 4*tiles)
}

// haul is what a worker collects: events, each with the place of its tile.
type haul struct {
	place  []int32
	events []event
}

// eye is what a worker needs to read tiles.
type eye struct {
	strip strip
	col   *column
}

func (m *Model) newSampler(v *view, size, before, after int, l lattice) *sampler {
	s := &sampler{m: m, view: v, scan: v.scan(), size: size, before: before, after: after, cols: v.cols/size + 1, lattice: l,
		room:   firstTiles,
		wanted: make([]bitset.Set, len(m.Pieces)), catch: m.workers.catch}
	if s.catch == nil {
		s.catch = &catch{hauls: make([]haul, m.workers.size())}
		for range s.hauls {
			s.eyes = append(s.eyes, &eye{col: newColumn(len(m.Pieces))})
		}
		m.workers.catch = s.catch
	}
	return s
}

// area is the lines of a tile, with its margin.
func (s *sampler) area(id int) area {
	x, y := id%s.cols*s.size, id/s.cols*s.size
	return area{x - s.before, y - s.before, x + s.size + s.after, y + s.size + s.after}
}

// across is the width of a tile with its margin.
func (s *sampler) across() int { return s.size + s.before + s.after }

// sample samples a batch of tiles, sorted by id, and calls do for each with the
// lines of it that meet several pieces, or one that is not closed. pieces calls
// its argument with the pieces wanted in a tile.
func (s *sampler) sample(ctx context.Context, batch []tile, pieces func(t *tile, want func(int32)), do func(worker, n int, each func(func(x, y int, col *column)))) error {
	if len(batch) == 0 {
		return nil
	}
	s.take(batch, pieces)
	if err := s.draw(ctx); err != nil {
		return err
	}
	s.sort(len(batch))
	s.learn(len(batch))
	return s.m.workers.share(ctx, len(batch), func(worker, n int) error {
		do(worker, n, func(read func(x, y int, col *column)) { s.read(worker, n, s.area(batch[n].id), read) })
		return ctx.Err()
	})
}

// takeAll is take for all tiles and all pieces.
func (s *sampler) takeAll() {
	s.rows = s.view.rows/s.size + 1
	s.empty()
}

// readAll calls do with the lines drawn in each tile.
func (s *sampler) readAll(ctx context.Context, do func(worker, tile int, each func(func(x, y int, col *column)))) error {
	s.sort(s.rows * s.cols)
	return s.m.workers.share(ctx, s.rows, func(worker, row int) error {
		for n := row * s.cols; n < (row+1)*s.cols; n++ {
			if s.start[n] < s.start[n+1] {
				do(worker, n, func(read func(x, y int, col *column)) { s.read(worker, n, s.area(n), read) })
			}
		}
		return ctx.Err()
	})
}

// take notes which pieces are wanted in which tiles.
func (s *sampler) take(batch []tile, pieces func(t *tile, want func(int32))) {
	clear(s.wanted)
	s.row0 = batch[0].id / s.cols
	s.rows = batch[len(batch)-1].id/s.cols - s.row0 + 1
	s.number = cleared(s.number, s.rows*s.cols)
	for n := range batch {
		s.number[batch[n].id-s.row0*s.cols] = int32(n + 1)
		pieces(&batch[n], func(p int32) {
			if s.wanted[p] == nil {
				s.wanted[p] = bitset.New(len(batch))
			}
			s.wanted[p].Add(n)
		})
	}
}

// cleared is a list of n zeros, in the given one if it is long enough.
func cleared(list []int32, n int) []int32 {
	if cap(list) < n {
		return make([]int32, n)
	}
	list = list[:n]
	clear(list)
	return list
}

// draw collects the events of all pieces that are wanted anywhere.
func (s *sampler) draw(ctx context.Context) error {
	s.empty()
	var which []int
	for p, w := range s.wanted {
		if w != nil {
			which = append(which, p)
		}
	}
	work := slicesOf(s.m.Pieces, which)
	return s.m.workers.share(ctx, len(work), func(worker, i int) error {
		part := work[i]
		pen := s.pen(worker, part.piece)
		pen.wanted = s.wanted[part.piece]
		return s.m.workers.blocks(worker, s.m.workers, part, pen.mayMeet, func(block []mesh.Triangle) {
			var t projected
			for k := range block {
				if lines := s.scan.project(&block[k], &t); !lines.empty() {
					pen.triangle(&t, lines)
				}
			}
		})
	})
}

// empty makes room for new events.
func (s *sampler) empty() {
	for i := range s.hauls {
		s.hauls[i].place, s.hauls[i].events = s.hauls[i].place[:0], s.hauls[i].events[:0]
	}
}

// pen is a pen for a worker that draws a piece into all tiles; a sampler that is nil has
// none.
func (s *sampler) pen(worker, piece int) *pen {
	if s == nil {
		return nil
	}
	return &pen{sampler: s, piece: piece, haul: &s.hauls[worker]}
}

// tilesOf is the tiles of the batch's rows that lines may be in, with margins.
func (s *sampler) tilesOf(a area) area {
	x0, y0 := max(a.x0-s.after, 0)/s.size, max(a.y0-s.after, 0)/s.size
	x1, y1 := (a.x1-1+s.before)/s.size+1, (a.y1-1+s.before)/s.size+1
	return area{x0, max(y0, s.row0), min(x1, s.cols), min(y1, s.row0+s.rows)}
}

// pen draws the triangles of one piece.
type pen struct {
	*sampler
	piece  int
	wanted bitset.Set // places of tiles; nil for all, by their ids
	haul   *haul

	row  int // of tiles drawn into
	from int // its first tile in which the piece is wanted
	to   int // and the one after its last
	cut  cut
}

// mostTested is how many tiles are tested for a run of triangles.
const mostTested = 64

// mayMeet reports whether a run of triangles may meet a tile in which its piece
// is wanted.
func (p *pen) mayMeet(b *run) bool {
	a := p.scan.lines(b)
	if !p.meets(a) {
		return false
	}
	t := p.tilesOf(a)
	if (t.x1-t.x0)*(t.y1-t.y0) > mostTested {
		return true
	}
	for y := t.y0; y < t.y1; y++ {
		for x := t.x0; x < t.x1; x++ {
			if p.place0(x, y) >= 0 {
				return true
			}
		}
	}
	return false
}

// place0 is the place of a tile in the batch, or -1 if the piece is not wanted
// there.
func (p *pen) place0(x, y int) int32 {
	if p.wanted == nil {
		return int32(y*p.cols + x)
	}
	n := p.number[(y-p.row0)*p.cols+x] - 1
	if n < 0 || !p.wanted.Has(int(n)) {
		return -1
	}
	return n
}

// triangle draws a triangle into all tiles in which its piece is wanted.
func (p *pen) triangle(t *projected, a area) {
	if !p.meets(a) {
		return
	}
	taken := false
	over := p.tilesOf(a)
	for p.row = over.y0; p.row < over.y1; p.row++ {
		if p.within(over.x0, over.x1); p.from == p.to {
			continue
		}
		if !taken {
			taken = true
			p.cut.take(&p.scan, t)
		}
		first, last := p.area(p.row*p.cols+p.from), p.area(p.row*p.cols+p.to-1)
		if at := a.meet(area{first.x0, first.y0, last.x1, last.y1}); !at.empty() {
			p.cut.fill(at, p)
		}
	}
}

// within narrows a run of tiles of the row down to those in which the piece is wanted.
func (p *pen) within(from, to int) {
	for from < to && p.place0(from, p.row) < 0 {
		from++
	}
	for to > from && p.place0(to-1, p.row) < 0 {
		to--
	}
	p.from, p.to = from, to
}

func (p *pen) rowOf(y int) int { return p.lattice.rowOf(y) }

// span collects the events of some lines of a row.
func (p *pen) span(f *facet, y, first int, base float64, x0, x1 int, side uint64) {
	across := p.across()
	from, to := max((x0-p.after)/p.size, p.from), min((x1-1+p.before)/p.size+1, p.to)
	for x := from; x < to; x++ {
		place := p.place0(x, p.row)
		if place < 0 {
			continue
		}
		left := x*p.size - p.before
		row := (y-p.row*p.size+p.before)*across - left
		end := min(x1, left+across)
		for at := p.next(first, max(x0, left)-p.run+1); at < end; at += p.step {
			for x := max(at, x0, left); x < min(at+p.run, end); x++ {
				p.haul.place = append(p.haul.place, place)
				p.haul.events = append(p.haul.events, pack(row+x, f.depth(base, x), p.piece, side, f.cosine&255))
			}
		}
	}
}

// sort puts the events in the order of their tiles.
func (s *sampler) sort(tiles int) {
	s.start = cleared(s.start, tiles+2)
	total := 0
	for _, h := range s.hauls {
		total += len(h.events)
		for _, n := range h.place {
			s.start[n+2]++
		}
	}
	for n := 1; n < len(s.start); n++ {
		s.start[n] += s.start[n-1]
	}
	if cap(s.events) < total {
		s.events = make([]event, total)
	}
	s.events = s.events[:total]
	for _, h := range s.hauls {
		for i, n := range h.place {
			s.events[s.start[n+1]] = h.events[i]
			s.start[n+1]++
		}
	}
}

// read calls do with the telling lines of a tile.
func (s *sampler) read(worker, n int, at area, do func(x, y int, col *column)) {
	events := s.events[s.start[n]:s.start[n+1]]
	if len(events) == 0 {
		return
	}
	e := s.eyes[worker]
	width := s.across()
	e.strip.sort(events, width*width)
	for i := range width * width {
		if line := e.strip.line(i); telling(line) {
			e.col.read(line)
			do(at.x0+i%width, at.y0+i/width, e.col)
		}
	}
}
