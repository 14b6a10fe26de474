package blocking

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Settings of a measurement. The zero value chooses for itself.
type Settings struct {
	Pitch  float64    // mm between sample lines; 0: 0.3, less for small models, more for those over 780 mm
	Depth  float64    // mm of overlap that counts as touching; 0: a third of the pitch
	Toward []geom.Vec // further directions to look along
	Known  *Known     // what was measured before; nil if nothing
	// Progress, if not nil, is told how far the work is, from 0 to 1.
	Progress func(share float64)
}

// Model is what has been measured of some pieces.
type Model struct {
	Pieces     []*mesh.Mesh
	Pitch      float64    // mm between sample lines
	Depth      float64    // mm of overlap that counts as touching
	Touch      float64    // mm of gap that counts as touching
	Directions []geom.Vec // of length 1; each is followed by its opposite
	Pairs      []Pair     // that touch, nearly touch or overlap, by number
	NotClosed  []int      // sample lines of each piece along which it is not closed

	crew   *crew
	axes   []axis
	known  *matched         // what is known of the pieces from before
	some   []*axis          // axes looked along for some of the pieces only
	pairOf map[[2]int32]int // index into Pairs
}

// axis is what has been seen along one axis.
type axis struct {
	dir     geom.Vec
	contact bool               // gaps and contacts were measured
	list    []seen             // by pair
	broken  []int              // lines of each piece along which it is not closed
	among   []bool             // the pieces looked at; nil for all
	checked map[[2]int32]uint8 // pairs looked at closer along the moves, and the bits asked for
}

// Pair is what was measured of two pieces.
type Pair struct {
	A, B    int     // numbers of the pieces, A < B
	Contact float64 // mm2 of faces that touch, right to half a pitch at their rims
	Gap     float64 // mm, mean over the contact; the smallest seen where there is none
	Depth   float64 // mm of overlap, the least of all directions; 0 if they do not clash
	Volume  float64 // mm3 of overlap, right to half a pitch at its rim
}

// Relation of a piece that leaves along a direction to another.
type Relation int

// A piece that clashes is in the way whichever way the other leaves.
const (
	Free Relation = iota
	Blocked
	Clash
)

const (
	defaultPitch = 0.3
	linesAcross  = 400         // at least, across a small model
	mostAcross   = 2600        // lines across a large one, if it is left open
	maxAcross    = 12_000      // lines across any
	maxEvents    = 150_000_000 // of one view: some 1.2 GB
)

// ErrTooFine is returned for a pitch that takes too much memory.
var ErrTooFine = errors.New("the pitch is too fine for a model of this size")

// ErrTooCoarse is returned for a pitch with which most pieces would be missed.
var ErrTooCoarse = errors.New("the pitch is too coarse")

// Measure looks at pieces from all directions.
func Measure(ctx context.Context, pieces []*mesh.Mesh, s Settings) (*Model, error) {
	if len(pieces) >= maxPieces {
		return nil, fmt.Errorf("%d pieces are more than can be measured together (%d)", len(pieces), maxPieces-1)
	}
	m := &Model{Pieces: pieces, crew: newCrew(), pairOf: map[[2]int32]int{}, NotClosed: make([]int, len(pieces))}
	if err := m.settle(s); err != nil {
		return nil, err
	}
	all := m.all()
	if len(all) == 0 {
		return m, nil
	}
	m.match(s.Known)
	axes := fixedAxes()
	for _, d := range s.Toward {
		axes = addAxes(axes, d.Unit())
	}
	own, err := ownAxes(pieces, all, ownShare, maxOwnAxes)
	if err != nil {
		return nil, err
	}
	axes = addAxes(axes, own...)
	for i, w := range axes {
		if err := m.measure(ctx, w, i < mainAxes); err != nil {
			return nil, err
		}
		if s.Progress != nil {
			s.Progress(float64(i+1) / float64(len(axes)))
		}
	}
	m.finishPairs()
	return m, nil
}

// all numbers the pieces that have a surface.
func (m *Model) all() []int {
	var list []int
	for i, p := range m.Pieces {
		if p.Len() > 0 {
			list = append(list, i)
		}
	}
	return list
}

// check refuses what is no length or no direction.
func (s *Settings) check() error {
	for _, l := range []struct {
		name string
		mm   float64
	}{{"pitch", s.Pitch}, {"depth", s.Depth}} {
		if !(l.mm >= 0) || math.IsInf(l.mm, 1) {
			return fmt.Errorf("a %s of %g mm; give a positive number, or 0 to have it chosen", l.name, l.mm)
		}
	}
	for _, d := range s.Toward {
		if l := d.Length(); !(l > 0) || math.IsInf(l, 1) {
			return fmt.Errorf("%v is not a direction to look along", d)
		}
	}
	return nil
}

// settle chooses what the settings leave open.
func (m *Model) settle(s Settings) error {
	if err := s.check(); err != nil {
		return err
	}
	across := m.box(m.all()).Size().Length()
	surface := 0.0
	for _, p := range m.Pieces {
		surface += p.Area
	}
	// Seen from anywhere, a surface covers half its area on average.
	events := func(pitch float64) float64 { return surface / 2 / (pitch * pitch) }
	m.Pitch = s.Pitch
	if m.Pitch == 0 {
		m.Pitch = max(min(defaultPitch, across/linesAcross), across/mostAcross)
		if m.Pitch == 0 {
			m.Pitch = defaultPitch
		}
		if n := events(m.Pitch); n > maxEvents/2 {
			m.Pitch *= math.Sqrt(n / (maxEvents / 2))
		}
	}
	if across/m.Pitch > 2*maxAcross || events(m.Pitch) > maxEvents {
		return fmt.Errorf("%w: %.3g mm for one of %.0f mm; leave it out, or give at least %.2g", ErrTooFine, m.Pitch, across,
			max(across/maxAcross, math.Sqrt(surface/2/maxEvents)))
	}
	if piece, far := m.tooCoarse(); piece >= 0 {
		return fmt.Errorf("%w: %.3g mm, and %s is %.3g mm thick; %s stands furthest from the rest, is that right? Give a finer pitch, or measure what belongs together",
			ErrTooCoarse, m.Pitch, m.Pieces[piece].Name, thickness(m.Pieces[piece]), m.Pieces[far].Name)
	}
	if m.Depth = s.Depth; m.Depth == 0 {
		m.Depth = m.Pitch / 3
	}
	m.Touch = max(m.Depth, m.Pitch*2/3)
	return nil
}

// measure looks along an axis for the first time, and adds what is seen to the pairs.
func (m *Model) measure(ctx context.Context, w geom.Vec, contact bool) error {
	if err := m.along(ctx, w, contact); err != nil {
		return err
	}
	a := &m.axes[len(m.axes)-1]
	for p, n := range a.broken {
		m.NotClosed[p] += n
	}
	for i := range a.list {
		m.addPair(&a.list[i], contact)
	}
	return nil
}

// tooCoarse names a piece that most lines would miss, and the piece that stands
// furthest from the middle of all; -1 if the pitch will do for most.
func (m *Model) tooCoarse() (piece, far int) {
	if len(m.all()) == 0 {
		return -1, -1
	}
	thin, most, middle := 0, 0.0, m.typical()
	piece = -1
	for _, p := range m.all() {
		if thickness(m.Pieces[p]) < m.Pitch/2 && m.Pieces[p].Volume > 0 {
			thin++
			piece = p
		}
		if d := m.Pieces[p].Centre.Minus(middle).Length(); d > most {
			most, far = d, p
		}
	}
	if 2*thin <= len(m.all()) {
		return -1, far
	}
	return piece, far
}

// typical is the median of the pieces' centres.
func (m *Model) typical() geom.Vec {
	var middle geom.Vec
	for k := range 3 {
		var list []float64
		for _, p := range m.all() {
			list = append(list, m.Pieces[p].Centre[k])
		}
		slices.Sort(list)
		middle[k] = list[len(list)/2]
	}
	return middle
}

// along looks along an axis, at what is not known from before.
func (m *Model) along(ctx context.Context, w geom.Vec, contact bool) error {
	a := axis{dir: w, contact: contact, checked: map[[2]int32]uint8{}}
	old, only := m.remember(&a)
	fresh, broken, err := m.look(ctx, w, m.all(), contact, only)
	if err != nil {
		return err
	}
	a.list = append(old, fresh...)
	slices.SortFunc(a.list, byPair)
	for p, n := range broken {
		if only == nil || only[p] {
			a.broken[p] = n
		}
	}
	m.axes = append(m.axes, a)
	m.Directions = append(m.Directions, w, w.Opposite())
	return nil
}

// forSome looks along an axis for some pieces only, unless that has been done.
func (m *Model) forSome(ctx context.Context, w geom.Vec, which []int) (*axis, error) {
	if a := m.axisFor(w, which); a != nil {
		return a, nil
	}
	list, _, err := m.look(ctx, w, which, false, nil)
	if err != nil {
		return nil, err
	}
	a := &axis{dir: w, list: list, among: make([]bool, len(m.Pieces)), checked: map[[2]int32]uint8{}}
	for _, p := range which {
		a.among[p] = true
	}
	m.some = append(m.some, a)
	return a, nil
}

// axisFor is the axis along which some pieces have been looked at, nil if none.
func (m *Model) axisFor(w geom.Vec, which []int) *axis {
	for i := range m.axes {
		if m.axes[i].along(w) {
			return &m.axes[i]
		}
	}
	for _, a := range m.some {
		if a.along(w) && !slices.ContainsFunc(which, func(p int) bool { return !a.among[p] }) {
			return a
		}
	}
	return nil
}

// along reports whether a direction is that of the axis or its opposite.
func (x *axis) along(w geom.Vec) bool { return x.dir == w || x.dir == w.Opposite() }

// addPair adds what one view says to a pair. Seen along three axes square to each
// other, a face counts by the squares of its cosines, which add up to one.
func (m *Model) addPair(s *seen, contact bool) {
	if s.bits&clashes == 0 && !contact {
		return
	}
	key := [2]int32{s.lo, s.hi}
	i, known := m.pairOf[key]
	if !known {
		i = len(m.Pairs)
		m.pairOf[key] = i
		m.Pairs = append(m.Pairs, Pair{A: int(s.lo), B: int(s.hi), Gap: math.NaN()})
	}
	p := &m.Pairs[i]
	if contact {
		p.add(s)
	}
	if s.bits&clashes == 0 {
		return
	}
	if p.Depth == 0 || s.deep < p.Depth*sameDepth {
		p.Volume = s.volume
	}
	if p.Depth == 0 || s.deep < p.Depth {
		p.Depth = s.deep
	}
}

// sameDepth is the ratio above which two depths are the same: of the axes of the same
// depth, the first gives the volume.
const sameDepth = 0.999

func (p *Pair) add(s *seen) {
	if s.touch > 0 {
		if p.Contact == 0 {
			p.Gap = 0
		}
		p.Contact += s.touch
		p.Gap += s.gap
	} else if p.Contact == 0 && s.near >= 0 && !(p.Gap <= s.near) {
		p.Gap = s.near
	}
}

// finishPairs turns sums into means, and drops pairs that are not near each other.
func (m *Model) finishPairs() {
	for i := range m.Pairs {
		p := &m.Pairs[i]
		if p.Contact > 0 {
			p.Gap = max(p.Gap/p.Contact, 0)
		}
		if p.Depth > 0 && math.IsNaN(p.Gap) {
			p.Gap = 0
		}
	}
	m.Pairs = slices.DeleteFunc(m.Pairs, func(p Pair) bool { return p.Contact == 0 && p.Depth == 0 && math.IsNaN(p.Gap) })
	slices.SortFunc(m.Pairs, func(a, b Pair) int {
		if a.A != b.A {
			return a.A - b.A
		}
		return a.B - b.B
	})
	clear(m.pairOf)
	for i, p := range m.Pairs {
		m.pairOf[[2]int32{int32(p.A), int32(p.B)}] = i
	}
}

// Pair returns what was measured of two pieces, nil if they are not near each other.
func (m *Model) Pair(a, b int) *Pair {
	if i, known := m.pairOf[[2]int32{int32(min(a, b)), int32(max(a, b))}]; known {
		return &m.Pairs[i]
	}
	return nil
}

// Blocks tells whether piece b is in the way when piece a leaves along
// Directions[d].
func (m *Model) Blocks(a, b, d int) Relation {
	bits := m.axes[d/2].bits(a, b)
	above, strict := sides(a, b, d)
	switch {
	case bits&clashes != 0:
		return Clash
	case bits&(above|strict) != 0:
		return Blocked
	}
	return Free
}

// sides are the bits that say piece b is in the way of a along direction d.
func sides(a, b, d int) (plain, strict uint8) {
	if (a < b) == (d%2 == 0) {
		return upper, upperOrClash
	}
	return under, underOrClash
}

func (x *axis) bits(a, b int) uint8 {
	i, found := slices.BinarySearchFunc(x.list, seen{lo: int32(min(a, b)), hi: int32(max(a, b))}, byPair)
	if !found {
		return 0
	}
	return x.list[i].bits
}
