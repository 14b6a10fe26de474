package printing

import (
	"context"
	"math"
	"slices"
	"sync"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Outline is the shadow of a part on the bed at its setting, with its holes, in
// square cells: every cell that the shadow touches. It begins at the front left
// corner of the box around the part.
type Outline struct {
	Cell float64 // mm
	Mask Mask
	Low  geom.Vec // the lowest corner of the turned part, before it is moved to the bed, mm
	Size geom.Vec // of the turned part, mm

	grow  float64 // mm to keep free all round
	once  sync.Once
	turns [4]stamp
	area  float64
}

// Cells are as small as a quarter of the gap between pieces, within these, mm.
const (
	leastCell = 0.5
	mostCell  = 1.0
)

func cellOf(margin float64) float64 { return min(max(margin/4, leastCell), mostCell) }

// outlines adds its outline to each setting of a part, by printer.
func (f *facts) outlines(ctx context.Context, sets []*Setting, printers []*kits.Printer) error {
	for k, s := range sets {
		if s == nil {
			continue
		}
		apart := gap(printers[k])
		f.inward(s, printers[k])
		same := slices.IndexFunc(sets[:k], func(o *Setting) bool {
			return o != nil && o.Turn == s.Turn && o.Outline.grow == apart
		})
		if same >= 0 {
			s.Outline, s.Size = sets[same].Outline, sets[same].Size
			continue
		}
		o, err := outlineOf(ctx, f.Surface, s.Turn, cellOf(apart))
		if err != nil {
			return err
		}
		o.grow = apart
		s.Outline, s.Size = o, o.Size
	}
	return nil
}

// outlineOf is the outline of a surface at a turn, read twice, in cells of the
// given size in mm. The error is one of reading or of the context.
func outlineOf(ctx context.Context, s Surface, t Turn, cell float64) (*Outline, error) {
	o := &Outline{Cell: cell}
	box := geom.Nothing()
	err := each(ctx, s, func(block []mesh.Triangle) {
		for i := range block {
			for _, c := range block[i] {
				box = box.With(t.apply(geom.Point(c)))
			}
		}
	})
	if err != nil || box.Max[0] < box.Min[0] {
		return o, err
	}
	o.Low, o.Size = box.Min, box.Size()
	r := newShadowCells(box, cell)
	err = each(ctx, s, func(block []mesh.Triangle) {
		for i := range block {
			var p [3]geom.Vec
			for k, c := range block[i] {
				p[k] = t.apply(geom.Point(c)).Minus(box.Min).Times(1 / cell)
			}
			r.triangle(&p)
		}
	})
	o.Mask = r.mask()
	return o, err
}

// shadowCells is a picture of cells, one bit each, rows from the front.
type shadowCells struct {
	w, h, words int
	bits        []uint64
}

// maxCells bounds the cells along a side; a bed has no more.
const maxCells = 1 << 13

func newShadowCells(box geom.Box, cell float64) *shadowCells {
	size := box.Size().Times(1 / cell)
	side := func(v float64) int { return min(max(int(math.Ceil(v-1e-6)), 1), maxCells) }
	r := &shadowCells{w: side(size[0]), h: side(size[1])}
	r.words = (r.w + 63) / 64
	r.bits = make([]uint64, r.words*r.h)
	return r
}

// triangle marks each cell that a triangle touches: in each row, all from the
// leftmost to the rightmost point that it has there.
func (r *shadowCells) triangle(p *[3]geom.Vec) {
	low := min(p[0][1], p[1][1], p[2][1])
	high := max(p[0][1], p[1][1], p[2][1])
	for y := r.row(low); y <= r.row(high); y++ {
		left, right := math.Inf(1), math.Inf(-1)
		for k := range p {
			a, b := &p[k], &p[(k+1)%3]
			lo, hi := max(float64(y), min(a[1], b[1])), min(float64(y+1), max(a[1], b[1]))
			if y == r.h-1 {
				hi = max(a[1], b[1]) // what rounding put beyond the last row is in it
			}
			if lo > hi {
				continue
			}
			x0, x1 := along(a, b, lo), along(a, b, hi)
			if a[1] == b[1] {
				x0, x1 = a[0], b[0]
			}
			left, right = min(left, x0, x1), max(right, x0, x1)
		}
		if left <= right {
			r.run(y, r.column(left), r.column(right))
		}
	}
}

// along is where the line from a to b has a y.
func along(a, b *geom.Vec, y float64) float64 {
	if a[1] == b[1] {
		return a[0]
	}
	f := (y - a[1]) / (b[1] - a[1])
	return a[0] + f*(b[0]-a[0])
}

func (r *shadowCells) row(y float64) int    { return min(max(int(y), 0), r.h-1) }
func (r *shadowCells) column(x float64) int { return min(max(int(x), 0), r.w-1) }

// run marks cells of a row, both ends included.
func (r *shadowCells) run(y, from, to int) {
	row := r.bits[y*r.words : (y+1)*r.words]
	first, last := from/64, to/64
	head, tail := ^uint64(0)<<(from%64), ^uint64(0)>>(63-to%64)
	if first == last {
		row[first] |= head & tail
		return
	}
	row[first] |= head
	for n := first + 1; n < last; n++ {
		row[n] = ^uint64(0)
	}
	row[last] |= tail
}

func (r *shadowCells) has(x, y int) bool { return r.bits[y*r.words+x/64]>>(x%64)&1 == 1 }

func (r *shadowCells) mask() Mask {
	m := Mask{W: r.w, Rows: make([][]Span, r.h)}
	for y := range r.h {
		for x := 0; x < r.w; x++ {
			if !r.has(x, y) {
				continue
			}
			from := x
			for x < r.w && r.has(x, y) {
				x++
			}
			m.Rows[y] = append(m.Rows[y], Span{from, x})
		}
		m.share(y)
	}
	return m
}
