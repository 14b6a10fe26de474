package draw

import (
	"math"
	"runtime"
	"sync"

	"dryfit/kits/geom"
)

// thing is a body in a scene.
type thing struct {
	body *Body
	by   geom.Vec // how far it is moved from its seat, mm
	id   int32    // its number in the buffer, from 1
}

// buffer holds, for each pixel of a frame, the depth of the nearest surface and the id of
// its thing, 0 for none.
type buffer struct {
	frame
	depth []float32 // mm
	id    []int32
}

// newBuffer is a buffer of a frame with things painted on it.
func newBuffer(f frame, things ...thing) *buffer {
	b := &buffer{frame: f, depth: make([]float32, f.width*f.height), id: make([]int32, f.width*f.height)}
	for i := range b.depth {
		b.depth[i] = float32(math.Inf(1))
	}
	b.add(things...)
	return b
}

// dotted is a corner on the picture.
type dotted struct{ x, y, d float32 }

// smallBody is the number of triangles below which sharing the work costs more than it
// saves.
const smallBody = 20000

// add paints the surfaces of things. Each worker has its own band of rows, so that the
// result does not depend on timing.
func (b *buffer) add(things ...thing) {
	for _, t := range things {
		corners := b.dots(t)
		if len(t.body.triangles) < smallBody {
			b.band(t, corners, 0, b.height)
			continue
		}
		shared(b.height, func(y0, y1 int) { b.band(t, corners, y0, y1) })
	}
}

// shared splits the numbers below n among workers.
func shared(n int, work func(from, to int)) {
	workers := min(runtime.GOMAXPROCS(0), max(n, 1))
	var all sync.WaitGroup
	for i := range workers {
		all.Go(func() { work(n*i/workers, n*(i+1)/workers) })
	}
	all.Wait()
}

// dots projects the corners of a thing.
func (b *buffer) dots(t thing) []dotted {
	list := make([]dotted, len(t.body.corners))
	v, s := b.view, b.scale
	x0, y0, d0 := b.project(t.by)
	project := func(from, to int) {
		for i := from; i < to; i++ {
			p := geom.Point(t.body.corners[i])
			list[i] = dotted{float32(x0 + p.Dot(v.Right)*s), float32(y0 - p.Dot(v.Up)*s), float32(d0 + p.Dot(v.Ahead))}
		}
	}
	if len(list) < smallBody {
		project(0, len(list))
	} else {
		shared(len(list), project)
	}
	return list
}

// facing is twice the area of a triangle on the picture, positive if it faces the
// eye.
func facing(p, q, r dotted) float32 {
	return (r.x-p.x)*(q.y-p.y) - (q.x-p.x)*(r.y-p.y)
}

// band paints the rows from y0 up to y1.
func (b *buffer) band(t thing, corners []dotted, y0, y1 int) {
	top, bottom := float32(y0), float32(y1)
	width := float32(b.width)
	for _, c := range t.body.triangles {
		p, q, r := corners[c[0]], corners[c[1]], corners[c[2]]
		if max(p.y, q.y, r.y) < top || min(p.y, q.y, r.y) >= bottom || max(p.x, q.x, r.x) < 0 || min(p.x, q.x, r.x) >= width {
			continue
		}
		area := facing(p, q, r)
		if area == 0 || area < 0 && t.body.closed {
			continue
		}
		b.fill(p, q, r, t.id, y0, y1)
	}
}

// fill paints one triangle, row by row at the middles of the pixels.
func (b *buffer) fill(p, q, r dotted, id int32, y0, y1 int) {
	if p.y > q.y {
		p, q = q, p
	}
	if q.y > r.y {
		q, r = r, q
	}
	if p.y > q.y {
		p, q = q, p
	}
	// depth = d0 + dx*x + dy*y over the plane of the triangle
	ux, uy, ud := float64(q.x-p.x), float64(q.y-p.y), float64(q.d-p.d)
	vx, vy, vd := float64(r.x-p.x), float64(r.y-p.y), float64(r.d-p.d)
	det := ux*vy - uy*vx
	if det == 0 {
		return
	}
	dx, dy := (ud*vy-vd*uy)/det, (vd*ux-ud*vx)/det
	nearest, farthest := float64(min(p.d, q.d, r.d)), float64(max(p.d, q.d, r.d))
	from := max(y0, int(math.Ceil(float64(p.y)-0.5)))
	to := min(y1, int(math.Ceil(float64(r.y)-0.5)))
	for y := from; y < to; y++ {
		yc := float64(y) + 0.5
		xa := along(p, r, yc)
		xb := along(p, q, yc)
		if yc >= float64(q.y) {
			xb = along(q, r, yc)
		}
		if xa > xb {
			xa, xb = xb, xa
		}
		x0 := max(0, int(math.Ceil(xa-0.5)))
		x1 := min(b.width, int(math.Ceil(xb-0.5)))
		d := float64(p.d) + dx*(float64(x0)+0.5-float64(p.x)) + dy*(yc-float64(p.y))
		row := y * b.width
		for x := x0; x < x1; x++ {
			// A triangle seen nearly edge on has a steep plane: its corners bound it.
			near := float32(min(max(d, nearest), farthest))
			if near < b.depth[row+x] {
				b.depth[row+x], b.id[row+x] = near, id
			}
			d += dx
		}
	}
}

// along is where a line crosses a row.
func along(p, q dotted, y float64) float64 {
	h := float64(q.y - p.y)
	if h == 0 {
		return float64(p.x)
	}
	return float64(p.x) + (y-float64(p.y))/h*float64(q.x-p.x)
}
