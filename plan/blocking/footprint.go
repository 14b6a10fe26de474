package blocking

import (
	"context"
	"math"
	"sync"

	"dryfit/kits/mesh"
)

// footprint is where a piece is in a view: for each tile of lines that any of its
// triangles meets, the extent of these there. It is never too small. The tiles of a
// footprint are squares of the given number of lines.
type footprint struct {
	area    // in tiles
	extents []extent
}

// extent is the depths of the triangles of a piece that a line may enter by, and those it
// may leave by. Every stretch of a line begins at one kind and ends at the other: in a
// mesh that is inside out the two change places.
type extent struct{ enter, leave depths }

var nothing = extent{noDepths, noDepths}

func (e *extent) empty() bool { return e.enter.empty() && e.leave.empty() }

// all is the range of all depths.
func (e *extent) all() depths {
	return depths{min(e.enter.low, e.leave.low), max(e.enter.high, e.leave.high)}
}

// add adds a range, of triangles that face one way, or both where rounding makes it unsure.
func (e *extent) add(side facing, low, high float64) {
	if side != leaving {
		e.enter.add(low, high)
	}
	if side != entering {
		e.leave.add(low, high)
	}
}

// join adds what another extent holds.
func (e *extent) join(o extent) {
	e.enter.join(o.enter)
	e.leave.join(o.leave)
}

// depths is a range of depth codes; low is above high where nothing is.
type depths struct{ low, high uint32 }

var noDepths = depths{math.MaxUint32, 0}

func (d depths) empty() bool { return d.low > d.high }

func (d *depths) add(low, high float64) {
	d.low = min(d.low, uint32(max(low-1, 0)))
	d.high = max(d.high, uint32(high+1))
}

func (d *depths) join(o depths) { d.low, d.high = min(d.low, o.low), max(d.high, o.high) }

// at is the extent in a tile.
func (f *footprint) at(x, y int) extent {
	if x < f.x0 || x >= f.x1 || y < f.y0 || y >= f.y1 {
		return nothing
	}
	return f.extents[(y-f.y0)*(f.x1-f.x0)+x-f.x0]
}

// tilesOver is the tiles that cover an area.
func (a area) tilesOver(size int) area {
	return area{a.x0 / size, a.y0 / size, (a.x1 + size - 1) / size, (a.y1 + size - 1) / size}
}

// newFootprint is empty, and large enough for an area of lines.
func newFootprint(lines area, size int) *footprint {
	f := &footprint{area: lines.tilesOver(size)}
	f.extents = make([]extent, (f.x1-f.x0)*(f.y1-f.y0))
	for i := range f.extents {
		f.extents[i] = nothing
	}
	return f
}

// footprints computes the footprints of some pieces; those of others are nil. If s is not
// nil, its lines in all tiles are drawn on the way.
func (m *Model) footprints(ctx context.Context, v *view, size int, which []int, s *sampler) ([]*footprint, error) {
	all := make([]*footprint, len(m.Pieces))
	locks := make([]sync.Mutex, len(m.Pieces))
	scan := v.scan()
	work := slicesOf(m.Pieces, which)
	err := m.workers.share(ctx, len(work), func(worker, i int) error {
		part := work[i]
		f := newFootprint(v.cover(m.Pieces[part.piece].Box), size)
		pen := s.pen(worker, part.piece)
		// A run that can be added as a whole is read only for the lines that are drawn.
		var wanted func(*run) bool
		if scan.onW.axis >= 0 && m.workers.kept[part.piece] == nil {
			wanted = func(r *run) bool {
				lines := scan.lines(r)
				return !lines.empty() && (!f.takeRun(r, &scan, lines, size) || pen != nil && pen.meets(lines))
			}
		}
		err := m.workers.blocks(worker, m.workers, part, wanted, func(block []mesh.Triangle) {
			for k := range block {
				var t projected
				lines := scan.project(&block[k], &t)
				if lines.empty() {
					continue
				}
				f.take(&t, lines, size)
				if pen != nil {
					pen.triangle(&t, lines)
				}
			}
		})
		locks[part.piece].Lock()
		defer locks[part.piece].Unlock()
		if all[part.piece] == nil {
			all[part.piece] = f
			return err
		}
		for k, e := range f.extents {
			all[part.piece].extents[k].join(e)
		}
		return err
	})
	return all, err
}

// mostTiles is over how many tiles the triangles of a run are added together.
const mostTiles = 4

// takeRun adds the triangles of a run together, seen along a fixed axis, unless they lie
// over so many tiles that each has to be looked at.
func (f *footprint) takeRun(r *run, s *scan, lines area, size int) bool {
	tiles := lines.tilesOver(size).meet(f.area)
	if (tiles.x1-tiles.x0)*(tiles.y1-tiles.y0) > mostTiles {
		return false
	}
	low, high := r.reach(s.w, s.onW)
	low, high = low-s.w0, high-s.w0
	side := r.facing(s.w)
	for y := tiles.y0; y < tiles.y1; y++ {
		for x := tiles.x0; x < tiles.x1; x++ {
			f.extents[(y-f.y0)*(f.x1-f.x0)+x-f.x0].add(side, low, high)
		}
	}
	return true
}

// take adds a triangle, between whose corners are some lines.
func (f *footprint) take(t *projected, lines area, size int) {
	rows, cols := span{lines.y0, lines.y1 - 1}, span{lines.x0, lines.x1 - 1}
	low, high := min(t.w[0], t.w[1], t.w[2]), max(t.w[0], t.w[1], t.w[2])
	x0, x1 := max(cols.from/size, f.x0), min(cols.to/size, f.x1-1)
	y0, y1 := max(rows.from/size, f.y0), min(rows.to/size, f.y1-1)
	width := f.x1 - f.x0
	side := t.facing()
	if x0 == x1 && y0 == y1 {
		f.extents[(y0-f.y0)*width+x0-f.x0].add(side, low, high)
		return
	}
	if rows.to-rows.from < size && cols.to-cols.from < size {
		for y := y0; y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				f.extents[(y-f.y0)*width+x-f.x0].add(side, low, high)
			}
		}
		return
	}
	plane := planeOf(t)
	for y := y0; y <= y1; y++ {
		band := [2]float64{float64(max(y*size, rows.from)), float64(min(y*size+size-1, rows.to))}
		left, right := t.between(band)
		if left > right {
			continue
		}
		for x := max(x0, int(left)/size); x <= min(x1, int(right)/size); x++ {
			l, h := plane.over(max(left, float64(x*size)), min(right, float64(x*size+size-1)), band)
			f.extents[(y-f.y0)*width+x-f.x0].add(side, max(l, low), min(h, high))
		}
	}
}

// span is a run of lines or rows, both ends included.
type span struct{ from, to int }

// project computes grid coordinates and depths of a triangle. It returns the lines between
// its corners; if there are none, as in most of a fine mesh, the rest is not computed.
func (s *scan) project(tri *mesh.Triangle, t *projected) area {
	u, v, w := &s.u, &s.v, &s.w
	x0, y0, z0 := float64(tri[0][0]), float64(tri[0][1]), float64(tri[0][2])
	x1, y1, z1 := float64(tri[1][0]), float64(tri[1][1]), float64(tri[1][2])
	x2, y2, z2 := float64(tri[2][0]), float64(tri[2][1]), float64(tri[2][2])
	va := x0*v[0] + y0*v[1] + z0*v[2] - s.v0
	vb := x1*v[0] + y1*v[1] + z1*v[2] - s.v0
	vc := x2*v[0] + y2*v[1] + z2*v[2] - s.v0
	ua := x0*u[0] + y0*u[1] + z0*u[2] - s.u0
	ub := x1*u[0] + y1*u[1] + z1*u[2] - s.u0
	uc := x2*u[0] + y2*u[1] + z2*u[2] - s.u0
	ra, rb, rc := int(va), int(vb), int(vc)
	ca, cb, cc := int(ua), int(ub), int(uc)
	if ((ra^rb)|(ra^rc))*((ca^cb)|(ca^cc)) == 0 {
		return area{} // no row or no column between its corners
	}
	t.u, t.v = [3]float64{ua, ub, uc}, [3]float64{va, vb, vc}
	t.w = [3]float64{
		x0*w[0] + y0*w[1] + z0*w[2] - s.w0,
		x1*w[0] + y1*w[1] + z1*w[2] - s.w0,
		x2*w[0] + y2*w[1] + z2*w[2] - s.w0,
	}
	return area{min(ca, cb, cc) + 1, min(ra, rb, rc) + 1, max(ca, cb, cc) + 1, max(ra, rb, rc) + 1}
}

// facing is how a triangle faces the lines of a view.
type facing uint8

const (
	edgeOn facing = iota // or so nearly that rounding decides
	entering
	leaving
)

func (t *projected) facing() facing {
	abU, abV, acU, acV := t.u[1]-t.u[0], t.v[1]-t.v[0], t.u[2]-t.u[0], t.v[2]-t.v[0]
	one, other := abU*acV, abV*acU
	switch sure := 1e-9 * (math.Abs(one) + math.Abs(other)); {
	case one-other > sure:
		return leaving
	case other-one > sure:
		return entering
	}
	return edgeOn
}

// between is the range of columns of a triangle within a band of rows.
func (t *projected) between(band [2]float64) (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for i := range 3 {
		k := (i + 1) % 3
		if t.v[i] >= band[0] && t.v[i] <= band[1] {
			left, right = min(left, t.u[i]), max(right, t.u[i])
		}
		for _, b := range band {
			if (t.v[i] < b) != (t.v[k] < b) {
				u := t.u[i] + (b-t.v[i])*(t.u[k]-t.u[i])/(t.v[k]-t.v[i])
				left, right = min(left, u), max(right, u)
			}
		}
	}
	// A hair more, for what rounding takes off.
	return max(left-1e-6, 0), right + 1e-6
}

// plane is the depth of a triangle's plane: at + u*slopeU + v*slopeV. One that is
// seen edge on has no depth.
type plane struct{ at, slopeU, slopeV float64 }

func planeOf(t *projected) plane {
	abU, abV, abW := t.u[1]-t.u[0], t.v[1]-t.v[0], t.w[1]-t.w[0]
	acU, acV, acW := t.u[2]-t.u[0], t.v[2]-t.v[0], t.w[2]-t.w[0]
	turn := abU*acV - abV*acU
	p := plane{slopeU: (abW*acV - acW*abV) / turn, slopeV: (abU*acW - acU*abW) / turn}
	p.at = t.w[0] - p.slopeU*t.u[0] - p.slopeV*t.v[0]
	return p
}

// over is the range of depths over some columns and rows; everything if the plane
// is seen nearly edge on, where rounding makes its depths unsure.
func (p *plane) over(left, right float64, band [2]float64) (low, high float64) {
	u0, u1 := p.slopeU*left, p.slopeU*right
	v0, v1 := p.slopeV*band[0], p.slopeV*band[1]
	low = p.at + min(u0, u1) + min(v0, v1)
	high = p.at + max(u0, u1) + max(v0, v1)
	if !(math.Abs(p.at)+math.Abs(p.slopeU)+math.Abs(p.slopeV) < 1e12) {
		return math.Inf(-1), math.Inf(1)
	}
	return low, high
}
