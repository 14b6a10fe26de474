package blocking

import (
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// The first look along an axis. Most of it is decided without sampling every line:
// in each tile the depths at which lines can enter and leave a piece bound what they
// can say, and two by two lines in the middle of each tile prove most of what is so.
// What is left is sampled line by line, in the tiles that may still say something, and
// refined where only single lines do.

const (
	lookSize  = 8 // lines in a tile, each way
	lookAfter = 1 // lines of margin, so that squares across a border are seen
)

// look is the state of a look along one axis.
type look struct {
	m       *Model
	view    *view
	contact bool // measure gaps and contacts
	prints  []*footprint
	in      *presence
	pairs   *candidates
	list    []question // of the refinement, one for each pair
	eyes    []*observer
	broken  []int
}

// observe samples some pieces along w. It returns the observations of all pairs
// that share a line, sorted by pair, and for each piece the number of lines along
// which it was seen not to be closed. Gaps and contacts are measured on request. If
// only is not nil, pairs with neither piece marked in it are left out.
func (m *Model) observe(ctx context.Context, w geom.Vec, which []int, contact bool, only []bool) ([]pairObservation, []int, error) {
	l := &look{m: m, view: newView(w, m.Pitch, m.box(m.all())), contact: contact, broken: make([]int, len(m.Pieces))}
	a, which := m.inView(l.view, which, only)
	if a.empty() || len(which) < 2 {
		return nil, l.broken, nil // there is no pair
	}
	var err error
	probes := m.newSampler(l.view, lookSize, 0, 0, probe())
	probes.takeAll()
	if l.prints, err = m.footprints(ctx, l.view, lookSize, which, probes); err != nil {
		return nil, nil, err
	}
	l.in = presenceOf(l.view, lookSize, l.prints)
	if l.pairs, err = m.candidates(ctx, l.prints, l.in, only); err != nil {
		return nil, nil, err
	}
	for range m.workers.size() {
		l.eyes = append(l.eyes, newObserver(l))
	}
	if err := l.probe(ctx, probes); err != nil {
		return nil, nil, err
	}
	if err := l.sample(ctx); err != nil {
		return nil, nil, err
	}
	if err := l.refine(ctx); err != nil {
		return nil, nil, err
	}
	return l.observations(), l.broken, nil
}

// probe reads the few lines that were drawn in all tiles.
func (l *look) probe(ctx context.Context, s *sampler) error {
	err := s.readAll(ctx, func(worker, tile int, each func(func(x, y int, col *column))) {
		l.eyes[worker].probe(l.in.in(tile), each)
	})
	l.merge()
	return err
}

// merge accepts what the observers have found.
func (l *look) merge() {
	for _, e := range l.eyes {
		for i, bits := range e.found {
			l.pairs.found[i] |= bits
		}
	}
}

// sample samples every line in the tiles that may say something more.
func (l *look) sample(ctx context.Context) error {
	tiles, err := l.open(ctx)
	if err != nil {
		return err
	}
	s := l.m.newSampler(l.view, lookSize, 0, lookAfter, everyLine)
	for len(tiles) > 0 {
		batch := tiles[:min(len(tiles), s.room)]
		tiles = tiles[len(batch):]
		err := s.sample(ctx, batch, l.pieces, func(worker, n int, each func(func(x, y int, col *column))) {
			l.eyes[worker].read(&batch[n], s.area(batch[n].id), each)
		})
		if err != nil {
			return err
		}
	}
	l.merge()
	return nil
}

// pieces calls want with the pieces of the pairs asked for in a tile.
func (l *look) pieces(t *tile, want func(int32)) {
	for _, i := range t.pairs {
		want(l.list[i].lo)
		want(l.list[i].hi)
	}
}

// open lists the tiles in which lines may say something that is not known.
func (l *look) open(ctx context.Context) ([]tile, error) {
	l.list = make([]question, len(l.pairs.hi))
	for lo := range l.m.Pieces {
		for i := l.pairs.start[lo]; i < l.pairs.start[lo+1]; i++ {
			l.list[i] = question{lo: int32(lo), hi: l.pairs.hi[i]}
		}
	}
	rows := l.view.rows/lookSize + 1
	found := make([][]tile, rows)
	err := l.m.workers.share(ctx, rows, func(_, y int) error {
		for x := range l.in.cols {
			t := tile{id: y*l.in.cols + x}
			list := l.in.in(t.id)
			for i, lo := range list {
				a := l.prints[lo].at(x, y)
				for _, hi := range list[i+1:] {
					if k := l.asks(lo, hi, a, l.prints[hi].at(x, y)); k >= 0 {
						t.pairs = append(t.pairs, k)
					}
				}
			}
			if len(t.pairs) > 0 {
				found[y] = append(found[y], t)
			}
		}
		return nil
	})
	return slices.Concat(found...), err
}

// asks is the index of a pair of which the lines of a tile, in which its pieces have
// these extents, may say something that is not known; -1 if not.
func (l *look) asks(lo, hi int32, a, b extent) int32 {
	both := shared(a.all(), b.all()) * l.view.step
	near := l.contact && both > -l.m.near
	bits := ordered(a, b)
	if bits == 0 && !near && both <= 0 {
		return -1
	}
	i := l.pairs.index(lo, hi)
	if i < 0 {
		return -1
	}
	if l.pairs.clash[i] && both > 0 {
		bits |= upper | under // what overlaps is measured
		if both > l.m.Depth {
			bits |= clashes
			if l.pairs.found[i]&clashes != 0 {
				return i // its depth and volume are measured everywhere
			}
		}
	}
	if near || bits&^l.pairs.found[i] != 0 {
		return i
	}
	return -1
}

// refine settles what only single lines have said.
func (l *look) refine(ctx context.Context) error {
	var at []place
	for _, e := range l.eyes {
		for i, bits := range e.single {
			l.list[i].want |= bits
		}
		at = append(at, e.places...)
		e.places = nil
	}
	for i := range l.list {
		l.list[i].found = l.pairs.found[i]
	}
	at = slices.DeleteFunc(at, func(p place) bool { q := &l.list[p.question]; return q.want&^q.found == 0 })
	return l.m.refine(ctx, l.view, l.list, at, square, closeMargin)
}

// observations lists what was seen of all pairs of which anything was.
func (l *look) observations() []pairObservation {
	var list []pairObservation
	cell := l.view.pitch * l.view.pitch
	for i := range l.list {
		q := &l.list[i]
		s := pairObservation{lo: q.lo, hi: q.hi, bits: q.found, near: -1}
		sum := measure{near: -1}
		for _, e := range l.eyes {
			sum.add(e.measured[int32(i)])
		}
		s.deep, s.near = sum.deep, sum.near
		s.volume = float64(sum.volume) * l.view.step * cell
		s.touch = float64(sum.touch) / 255 * cell
		s.gap = float64(sum.gap) / 1e9 * cell
		if s.any() {
			list = append(list, s)
		}
	}
	for _, e := range l.eyes {
		for p, n := range e.broken {
			l.broken[p] += n
		}
	}
	return list
}

// measure is what lines measure of a pair. Sums are of integers, so that they do not
// depend on how the work was shared.
type measure struct {
	deep   float64 // greatest overlap along the normal, mm
	volume int64   // of the overlap: sum of lengths, in depth codes
	touch  int64   // touching: sum of cosines, in 255ths of a line
	gap    int64   // touching: sum of gaps times cosines, in billionths of a mm
	near   float64 // smallest gap seen, mm; negative if none was
}

func (s *measure) add(o *measure) {
	if o == nil {
		return
	}
	s.deep = max(s.deep, o.deep)
	s.volume += o.volume
	s.touch += o.touch
	s.gap += o.gap
	s.closer(o.near)
}

// closer takes a gap if it is the smallest; a negative one is none.
func (s *measure) closer(gap float64) {
	if gap >= 0 && (s.near < 0 || gap < s.near) {
		s.near = gap
	}
}

// contact adds a place where two pieces touch.
func (s *measure) contact(gap, cos float64) {
	s.touch += int64(cos*255 + 0.5)
	s.gap += int64(math.Round(gap * cos * 1e9))
}
