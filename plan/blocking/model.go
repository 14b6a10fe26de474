package blocking

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Model is what was measured of some pieces.
type Model struct {
	Pieces     []*mesh.Mesh
	Pitch      float64    // mm between sample lines
	Depth      float64    // mm of overlap that counts as touching
	Touch      float64    // mm of gap that counts as touching
	near       float64    // mm of gap that is still measured
	Directions []geom.Vec // of length 1; each is followed by its opposite
	Pairs      []Pair     // that touch, nearly touch or overlap, by number
	NotClosed  []int      // sample lines of each piece along which it is not closed

	workers *workers

	axes   []axis
	known  *matched         // what earlier measurements say of the pieces
	some   []*axis          // axes measured for some of the pieces only
	pairOf map[[2]int32]int // index into Pairs

	coarse   *Model // sees what is wider than any undercut
	passages map[passageKey]passage
	told     func(what string, share float64) // of the settings
}

// axis is what was measured along one axis.
type axis struct {
	dir     geom.Vec
	contact bool               // gaps and contacts were measured
	list    []pairObservation  // by pair
	broken  []int              // lines of each piece along which it is not closed
	among   []bool             // the pieces measured; nil for all
	checked map[[2]int32]uint8 // pairs refined along the moves, and the bits asked for
}

// Pair is what was measured of two pieces.
type Pair struct {
	A, B    int     // numbers of the pieces, A < B
	Contact float64 // mm2 of faces that touch, right to half a pitch at their rims
	Gap     float64 // mm, mean over the contact; the smallest seen where there is none
	Depth   float64 // mm of overlap, the least over all directions; 0 if they do not clash
	Volume  float64 // mm3 of overlap, right to half a pitch at its rim
}

// Measure measures pieces along all directions. If the context ends first, the model
// has what was measured until then, for [Model.Known], and nothing else may be asked
// of it.
func Measure(ctx context.Context, pieces []*mesh.Mesh, s Settings) (*Model, error) {
	if len(pieces) >= maxPieces {
		return nil, fmt.Errorf("too many pieces to measure together: %d; the limit is %d", len(pieces), maxPieces-1)
	}
	m := &Model{Pieces: pieces, told: s.Tell, workers: newWorkers(), pairOf: map[[2]int32]int{}, NotClosed: make([]int, len(pieces))}
	if err := m.settle(s); err != nil {
		return nil, err
	}
	all := m.all()
	if len(all) == 0 {
		return m, nil
	}
	var err error
	if m.workers.triangles, err = readTriangles(ctx, m.workers, pieces); err != nil {
		return nil, err
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
		m.tell("finding what blocks what", float64(i)/float64(len(axes)))
		if err := m.measure(ctx, w, i < mainAxes); err != nil {
			return m, err
		}
	}
	m.finishPairs()
	if err := m.clashes(ctx); err != nil {
		return m, err
	}
	m.pairsAgain()
	m.workers.rest()
	return m, nil
}

// tell says how far a task is.
func (m *Model) tell(what string, share float64) {
	if m.told != nil {
		m.told(what, share)
	}
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

// measure measures along a new axis, and adds what it finds to the pairs.
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

// along measures along an axis what is not known yet.
func (m *Model) along(ctx context.Context, w geom.Vec, contact bool) error {
	a := axis{dir: w, contact: contact, checked: map[[2]int32]uint8{}}
	old, only := m.remember(&a)
	fresh, broken, err := m.observe(ctx, w, m.all(), contact, only)
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

// forSome measures along an axis for some pieces only, unless that was done
// before.
func (m *Model) forSome(ctx context.Context, w geom.Vec, which []int) (*axis, error) {
	if a := m.axisFor(w, which); a != nil {
		return a, nil
	}
	list, _, err := m.observe(ctx, w, which, false, nil)
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

// axisFor is the axis along which some pieces were measured, nil if none.
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

// addPair adds what one view says to a pair. Over three perpendicular axes, a
// face is weighted by the squares of its cosines, which add up to one.
func (m *Model) addPair(s *pairObservation, contact bool) {
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
	switch shallow := s.deep <= m.Depth; {
	case shallow && p.Depth > 0:
		return // seen by closer lines only, so that s says too little of how deep it is
	case !shallow && p.Depth <= m.Depth:
		p.Depth = 0
	}
	if p.Depth == 0 || s.deep < p.Depth*sameDepth {
		p.Volume = s.volume
	}
	if p.Depth == 0 || s.deep < p.Depth {
		p.Depth = s.deep
	}
}

// pairsAgain makes the pairs from all views anew, with what closer looks have added, so
// that they do not depend on what was known before.
func (m *Model) pairsAgain() {
	m.Pairs, m.pairOf = nil, map[[2]int32]int{}
	for i := range m.axes {
		a := &m.axes[i]
		for k := range a.list {
			m.addPair(&a.list[k], a.contact)
		}
	}
	m.finishPairs()
}

// sameDepth is the ratio above which two depths count as the same; the first axis
// with the same depth gives the volume.
const sameDepth = 0.999

func (p *Pair) add(s *pairObservation) {
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
		return cmp.Or(cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B))
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

// side is the bit that says piece b is in the way of a along direction d.
func side(a, b, d int) uint8 {
	if (a < b) == (d%2 == 0) {
		return upper
	}
	return under
}

func (x *axis) bits(a, b int) uint8 {
	if s := x.seen(int32(min(a, b)), int32(max(a, b))); s != nil {
		return s.bits
	}
	return 0
}

// seen is what was seen of a pair, nil if nothing was.
func (x *axis) seen(lo, hi int32) *pairObservation {
	i, found := slices.BinarySearchFunc(x.list, pairObservation{lo: lo, hi: hi}, byPair)
	if !found {
		return nil
	}
	return &x.list[i]
}
