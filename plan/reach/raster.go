package reach

import (
	"math"

	"dryfit/kits/mesh"
)

// event is a sample line meeting the surface of a piece, packed so that sorting
// puts it in place: pixel 16 | depth 24 | piece 15 | leaving 1 | cosine 8. The
// cosine is that between the line and the surface's normal, in 255ths.
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

// plate is where events are collected: a stretch of the grid, cut into strips of
// rows that are looked at one at a time. The first row of a strip is collected into
// the strip before as well, so that neighbours in both can be compared.
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

// chunks is a growing list of events that never moves them.
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

// each calls do with the events, a chunk at a time, and hands the chunks back.
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

// scan holds a view's numbers ready for triangles.
type scan struct {
	u, v, w    vec // divided by pitch and step
	u0, v0, w0 float64
	ratio      float64 // step / pitch: turns a slope in codes a cell into a plain one
}

func (v *view) scan() scan {
	return scan{
		scale(v.u, 1/v.pitch), scale(v.v, 1/v.pitch), scale(v.w, 1/v.step),
		v.u0, v.v0, v.w0 / v.step, v.step / v.pitch,
	}
}

// moved is the scan of triangles that stand elsewhere by an offset, in mm.
func (s scan) moved(offset vec) scan {
	s.u0 -= dot(offset, s.u)
	s.v0 -= dot(offset, s.v)
	s.w0 -= dot(offset, s.w)
	return s
}

// draw collects the events of triangles of a piece that fall into the plate.
//
// A sample line belongs to the pixel whose number is the next whole number above,
// in both ways. The crossing of an edge with a row is always worked out from its
// lower end, so two triangles that share an edge agree to the last bit, and a
// closed surface is entered as often as it is left on every sample line.
func (s *scan) draw(block []mesh.Triangle, piece int, p *plate, pool *chunkPool) {
	var t projected
	for n := range block {
		tri := &block[n]
		for c := range 3 {
			x, y, z := float64(tri[c][0]), float64(tri[c][1]), float64(tri[c][2])
			t.v[c] = x*s.v[0] + y*s.v[1] + z*s.v[2] - s.v0
		}
		lowV, highV := min(t.v[0], t.v[1], t.v[2]), max(t.v[0], t.v[1], t.v[2])
		y0, y1 := max(ceil(lowV), p.y0), min(ceil(highV), p.y1)
		if y0 >= y1 {
			continue
		}
		for c := range 3 {
			x, y, z := float64(tri[c][0]), float64(tri[c][1]), float64(tri[c][2])
			t.u[c] = x*s.u[0] + y*s.u[1] + z*s.u[2] - s.u0
		}
		lowU, highU := min(t.u[0], t.u[1], t.u[2]), max(t.u[0], t.u[1], t.u[2])
		if x0, x1 := max(ceil(lowU), p.x0), min(ceil(highU), p.x1); x0 >= x1 {
			continue
		}
		for c := range 3 {
			x, y, z := float64(tri[c][0]), float64(tri[c][1]), float64(tri[c][2])
			t.w[c] = x*s.w[0] + y*s.w[1] + z*s.w[2] - s.w0
		}
		s.fill(&t, piece, y0, y1, p, pool)
	}
}

// ceil is math.Ceil for numbers that fit an int.
func ceil(x float64) int {
	i := int(x)
	if float64(i) < x {
		i++
	}
	return i
}

// fill collects the events of one triangle in rows y0 to y1-1.
func (s *scan) fill(t *projected, piece, y0, y1 int, p *plate, pool *chunkPool) {
	a, b, c := 0, 1, 2 // by rising v
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
	// b lies left of the long edge from a to c when turn is positive, and the
	// corners in this sequence then run clockwise.
	acU, acV, acW := t.u[c]-t.u[a], t.v[c]-t.v[a], t.w[c]-t.w[a]
	abU, abV, abW := t.u[b]-t.u[a], t.v[b]-t.v[a], t.w[b]-t.w[a]
	turn := acU*abV - acV*abU
	if turn > 0 {
		leaving = 1 - leaving
	}
	lowW, highW := min(t.w[0], t.w[1], t.w[2]), max(t.w[0], t.w[1], t.w[2])
	var slopeU, slopeV float64
	if turn != 0 {
		slopeU = (acW*abV - abW*acV) / turn
		slopeV = (acU*abW - abU*acW) / turn
	}
	gu, gv := slopeU*s.ratio, slopeV*s.ratio
	cosine := uint64(255/math.Sqrt(1+gu*gu+gv*gv) + 0.5)

	long := (t.u[c] - t.u[a]) / (t.v[c] - t.v[a])
	var lower, upper float64
	if t.v[b] > t.v[a] {
		lower = (t.u[b] - t.u[a]) / (t.v[b] - t.v[a])
	}
	if t.v[c] > t.v[b] {
		upper = (t.u[c] - t.u[b]) / (t.v[c] - t.v[b])
	}
	width := p.x1 - p.x0
	for y := y0; y < y1; y++ {
		r := float64(y)
		onLong := t.u[a] + (r-t.v[a])*long
		var onShort float64
		if r < t.v[b] {
			onShort = t.u[a] + (r-t.v[a])*lower
		} else {
			onShort = t.u[b] + (r-t.v[b])*upper
		}
		left, right := onLong, onShort
		if turn > 0 {
			left, right = onShort, onLong
		}
		x0, x1, side := ceil(left), ceil(right), leaving
		if x0 > x1 {
			x0, x1, side = x1, x0, 1-side
		}
		x0, x1 = max(x0, p.x0), min(x1, p.x1)
		if x0 >= x1 {
			continue
		}
		row := y - p.y0
		at := row / p.stripRows
		row -= at * p.stripRows
		base := t.w[a] + slopeV*(r-t.v[a]) - slopeU*t.u[a]
		strip := &p.strips[at]
		for x := x0; x < x1; x++ {
			w := min(max(base+slopeU*float64(x), lowW), highW)
			strip.add(pack(row*width+x-p.x0, uint32(w), piece, side, cosine), pool)
		}
		if row == 0 && at > 0 {
			strip = &p.strips[at-1]
			for x := x0; x < x1; x++ {
				w := min(max(base+slopeU*float64(x), lowW), highW)
				strip.add(pack(p.stripRows*width+x-p.x0, uint32(w), piece, side, cosine), pool)
			}
		}
	}
}
