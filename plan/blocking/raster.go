package blocking

import (
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// event is a sample line meeting the surface of a piece, packed so that sorting
// orders it: pixel 16 | depth 24 | piece 15 | leaving 1 | cosine 8. The cosine is
// that between the line and the surface's normal, in 255ths.
type event uint64

const maxPieces = 1 << 15

func pack(pixel int, depth uint32, piece int, leaving uint64, cosine uint64) event {
	return event(uint64(pixel)<<48 | uint64(depth)<<24 | uint64(piece)<<9 | leaving<<8 | cosine)
}

func (e event) pixel() int      { return int(e >> 48) }
func (e event) depth() uint32   { return uint32(e>>24) & depthCode }
func (e event) piece() int      { return int(e>>9) & (maxPieces - 1) }
func (e event) leaving() bool   { return e>>8&1 == 1 }
func (e event) cosine() float64 { return float64(e&255) / 255 }

// plate is where events are collected: an area of the grid, cut into strips of
// rows that are processed one at a time. The first row of a strip is also
// collected into the strip before, so that neighbouring rows can be compared.
type plate struct {
	area
	stripRows int
	strips    []chunks
}

// maxPixels is what 16 bits can number.
const maxPixels = 1 << 16

// newPlate cuts an area into strips. Its width is at most maxPixels/2.
func newPlate(a area) *plate {
	width := a.x1 - a.x0
	rows := min(max(maxPixels/width-1, 1), 64)
	n := (a.y1 - a.y0 + rows - 1) / rows
	return &plate{area: a, stripRows: rows, strips: make([]chunks, n)}
}

// chunks is a list of events that grows without moving them.
type chunks struct {
	full [][]event
	last []event
}

const chunkSize = 4096

func (c *chunks) add(e event, pool *chunkPool) {
	if len(c.last) == cap(c.last) {
		if c.last != nil {
			c.full = append(c.full, c.last)
		}
		c.last = pool.get()
	}
	c.last = append(c.last, e)
}

func (c *chunks) count() int {
	n := len(c.last)
	for _, f := range c.full {
		n += len(f)
	}
	return n
}

// drain calls do with the events, a chunk at a time, and returns the chunks to
// the pool.
func (c *chunks) drain(pool *chunkPool, do func([]event)) {
	for _, f := range append(c.full, c.last) {
		if f != nil {
			do(f)
			pool.put(f)
		}
	}
	*c = chunks{}
}

// chunkPool keeps chunks for one worker.
type chunkPool struct{ free [][]event }

func (p *chunkPool) get() []event {
	if n := len(p.free); n > 0 {
		c := p.free[n-1]
		p.free = p.free[:n-1]
		return c
	}
	return make([]event, 0, chunkSize)
}

func (p *chunkPool) put(c []event) { p.free = append(p.free, c[:0]) }

// projected is a triangle in grid coordinates: columns, rows, and depth codes.
type projected struct{ u, v, w [3]float64 }

// scan holds a view's numbers, prepared for projecting triangles.
type scan struct {
	u, v, w    geom.Vec // divided by pitch and step
	u0, v0, w0 float64
	ratio      float64 // step / pitch: turns a slope in codes a cell into a plain one

	onU, onV, onW onAxis // u, v, w, where they lie along fixed axes
}

func (v *view) scan() scan {
	s := scan{
		u: v.u.Times(1 / v.pitch), v: v.v.Times(1 / v.pitch), w: v.w.Times(1 / v.step),
		u0: v.u0, v0: v.v0, w0: v.w0 / v.step, ratio: v.step / v.pitch,
	}
	s.onU, s.onV, s.onW = onFixedAxis(s.u), onFixedAxis(s.v), onFixedAxis(s.w)
	return s
}

// moved is the scan of triangles displaced by an offset, in mm.
func (s scan) moved(offset geom.Vec) scan {
	s.u0 -= offset.Dot(s.u)
	s.v0 -= offset.Dot(s.v)
	s.w0 -= offset.Dot(s.w)
	return s
}

// draw collects the events of a piece's triangles that fall into the plate. All
// grid coordinates are positive: a view begins before the first of its pieces.
//
// A sample line belongs to the pixel numbered with the next integer above, in
// both directions. The crossing of an edge with a row is always computed from its
// lower end, so two triangles that share an edge agree to the last bit, and every
// sample line enters a closed surface as often as it leaves it.
func (s *scan) draw(block []mesh.Triangle, piece int, p *plate, pool *chunkPool) {
	var t projected
	b := &brush{plate: p, piece: piece, pool: pool}
	for n := range block {
		if lines := s.project(&block[n], &t).meet(p.area); !lines.empty() {
			b.cut.take(s, &t)
			b.cut.fill(area{p.x0, lines.y0, p.x1, lines.y1}, b)
		}
	}
}

// above is the next integer above a positive number.
func above(x float64) int { return int(x) + 1 }

// page takes the spans of a triangle, row by row.
type page interface {
	// rowOf is the first line wanted in a row, -1 if none is.
	rowOf(y int) int
	// span takes the lines x0 to x1-1 of a row. The depth of the facet at line x is
	// base + x*slopeU.
	span(f *facet, y, first int, base float64, x0, x1 int, side uint64)
}

// cut is a triangle ready to be cut into rows. One serves for all triangles: what a page
// is given would be allocated anew for each.
type cut struct {
	scan    *scan
	t       projected
	a, b, c int     // its corners, by rising v
	turn    float64 // above 0 where b lies left of the long edge from a to c
	leaving uint64
	long    float64 // slopes of the long edge, and of those below and above b
	lower   float64
	upper   float64
	facet   facet // computed with its first span: few triangles need it
}

// take prepares a triangle.
func (k *cut) take(s *scan, t *projected) {
	a, b, c := 0, 1, 2
	leaving := uint64(1)
	if t.v[b] < t.v[a] {
		a, b, leaving = b, a, 1-leaving
	}
	if t.v[c] < t.v[b] {
		b, c, leaving = c, b, 1-leaving
		if t.v[b] < t.v[a] {
			a, b, leaving = b, a, 1-leaving
		}
	}
	acU, acV := t.u[c]-t.u[a], t.v[c]-t.v[a]
	abU, abV := t.u[b]-t.u[a], t.v[b]-t.v[a]
	k.scan, k.t, k.a, k.b, k.c, k.leaving = s, *t, a, b, c, leaving
	k.turn, k.long, k.lower, k.upper = acU*abV-acV*abU, acU/acV, 0, 0
	k.facet.cosine = 0
	if k.turn > 0 {
		k.leaving = 1 - leaving // the corners in this order run clockwise
	}
	if t.v[b] > t.v[a] {
		k.lower = abU / abV
	}
	if t.v[c] > t.v[b] {
		k.upper = (t.u[c] - t.u[b]) / (t.v[c] - t.v[b])
	}
}

// fill gives to a page the lines within an area that meet the triangle.
func (k *cut) fill(at area, p page) {
	t, a, b := &k.t, k.a, k.b
	for y := at.y0; y < at.y1; y++ {
		first := p.rowOf(y)
		if first < 0 {
			continue
		}
		r := float64(y)
		left := t.u[a] + (r-t.v[a])*k.long
		var right float64
		if r <= t.v[b] {
			right = t.u[a] + (r-t.v[a])*k.lower
		} else {
			right = t.u[b] + (r-t.v[b])*k.upper
		}
		if k.turn > 0 {
			left, right = right, left
		}
		x0, x1, side := above(left), above(right), k.leaving
		if x0 > x1 {
			x0, x1, side = x1, x0, 1-side
		}
		x0, x1 = max(x0, at.x0), min(x1, at.x1)
		if x0 >= x1 {
			continue
		}
		f := &k.facet
		if f.cosine == 0 {
			*f = k.scan.facet(t, a, b, k.c, k.turn)
		}
		p.span(f, y, first, t.w[a]+f.slopeV*(r-t.v[a])-f.slopeU*t.u[a], x0, x1, side)
	}
}

// facet is the plane of a triangle, in depth codes.
type facet struct {
	slopeU, slopeV float64 // a column, a row
	low, high      float64 // of its corners
	cosine         uint64  // in 255ths, plus 256 so that it is never 0
}

// facet computes the plane of a triangle from its corners a, b and c.
func (s *scan) facet(t *projected, a, b, c int, turn float64) facet {
	f := facet{low: min(t.w[0], t.w[1], t.w[2]), high: max(t.w[0], t.w[1], t.w[2])}
	acU, acV, acW := t.u[c]-t.u[a], t.v[c]-t.v[a], t.w[c]-t.w[a]
	abU, abV, abW := t.u[b]-t.u[a], t.v[b]-t.v[a], t.w[b]-t.w[a]
	if turn != 0 {
		f.slopeU = (acW*abV - abW*acV) / turn
		f.slopeV = (acU*abW - abU*acW) / turn
	}
	gu, gv := f.slopeU*s.ratio, f.slopeV*s.ratio
	f.cosine = 256 + uint64(255/math.Sqrt(1+gu*gu+gv*gv)+0.5)
	return f
}

// depth is the code at line x of a row. That of facets seen edge-on is limited to
// their corners.
func (f *facet) depth(base float64, x int) uint32 {
	return uint32(min(max(base+f.slopeU*float64(x), f.low), f.high))
}

// brush draws the triangles of a piece on a plate.
type brush struct {
	*plate
	piece int
	pool  *chunkPool
	cut   cut
}

func (b *brush) rowOf(int) int { return 0 }

// span collects the events of columns x0 to x1-1 of a row.
func (b *brush) span(f *facet, y, _ int, base float64, x0, x1 int, side uint64) {
	width := b.x1 - b.x0
	row := y - b.y0
	at := row / b.stripRows
	row -= at * b.stripRows
	b.row(&b.strips[at], f, row*width-b.x0, base, x0, x1, side)
	if row == 0 && at > 0 {
		b.row(&b.strips[at-1], f, b.stripRows*width-b.x0, base, x0, x1, side)
	}
}

func (b *brush) row(strip *chunks, f *facet, row int, base float64, x0, x1 int, side uint64) {
	for x := x0; x < x1; x++ {
		strip.add(pack(row+x, f.depth(base, x), b.piece, side, f.cosine&255), b.pool)
	}
}
