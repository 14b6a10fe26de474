// Package seen finds which faces of the pieces of a model are seen from outside.
//
// It looks at the model from many directions: for each a depth map of all pieces is
// drawn, and places on every triangle are compared with it. A triangle is seen if a
// quarter of its places are seen from some direction. What is hidden in the finished
// model, inside it or against another piece, is not seen.
package seen

import (
	"context"
	"math"
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/bitset"
	"dryfit/plan/printing/raster"
)

// Piece is a piece of the model where it is seated.
type Piece struct {
	Mesh  *mesh.Mesh // nil if it has none
	Clear bool       // what is behind it is seen through it
}

// View is a direction to look from: two axes of the picture, and what faces the viewer.
type View = [3]geom.Vec

// Limits of the work. Beyond MaxTriangles nothing is looked at, since it would take
// minutes; a view stops drawing after maxDrawn cells, and then sees nothing.
const (
	MaxTriangles = 3_000_000
	across       = 600 // cells along the longest side of the model
	maxDrawn     = 300_000_000
)

const (
	facing    = 0.35 // cosine; what is turned away more is seen better from elsewhere (ours)
	placeSize = 8.0  // mm between places on a triangle
	maxPlaces = 6    // of them squared on a triangle
	share     = 0.25 // of the places on a triangle
)

// model is all pieces, and what was seen of them so far.
type model struct {
	pieces []Piece
	box    geom.Box
	seen   [][]uint64 // by piece and triangle, a bit for each place
}

// Faces lists for each piece the triangles that are seen. It returns nil if there are
// more than MaxTriangles. The error is one of reading a mesh or of the context.
func Faces(ctx context.Context, pieces []Piece, views []View) ([]bitset.Set, error) {
	m := &model{pieces: pieces, seen: make([][]uint64, len(pieces))}
	total := 0
	m.box = geom.Box{Min: geom.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Max: geom.Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}
	for i, p := range pieces {
		if p.Mesh == nil || p.Mesh.Len() == 0 {
			continue
		}
		total += p.Mesh.Len()
		m.box = m.box.With(p.Mesh.Min).With(p.Mesh.Max)
		if total > MaxTriangles {
			return nil, nil
		}
		m.seen[i] = make([]uint64, p.Mesh.Len())
	}
	if total == 0 {
		return make([]bitset.Set, len(pieces)), nil
	}
	var group errgroup.Group
	workers := min(runtime.GOMAXPROCS(0), len(views))
	for w := range workers {
		group.Go(func() error { return m.look(ctx, views[w*len(views)/workers:(w+1)*len(views)/workers]) })
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	return m.sets()
}

// sets collects the triangles of which enough was seen.
func (m *model) sets() ([]bitset.Set, error) {
	out := make([]bitset.Set, len(m.pieces))
	for i, p := range m.pieces {
		if m.seen[i] == nil {
			continue
		}
		out[i] = bitset.New(p.Mesh.Len())
		err := p.Mesh.Blocks(func(first int, block []mesh.Triangle) error {
			for k := range block {
				n := places(&block[k])
				if float64(ones(m.seen[i][first+k])) >= share*float64(n*n) {
					out[i].Add(first + k)
				}
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// look looks from some directions.
func (m *model) look(ctx context.Context, views []View) error {
	maps := make([]*depths, len(views))
	for i, v := range views {
		maps[i] = newDepths(v, m.box)
	}
	each := func(opaque bool, do func(d *depths, seen *uint64, c *[3]geom.Vec, places int)) error {
		for i, p := range m.pieces {
			if m.seen[i] == nil || opaque && p.Clear {
				continue
			}
			err := p.Mesh.Blocks(func(first int, block []mesh.Triangle) error {
				for k := range block {
					n := places(&block[k])
					for _, d := range maps {
						c := d.placed(&block[k])
						do(d, &m.seen[i][first+k], &c, n)
					}
				}
				return ctx.Err()
			})
			if err != nil {
				return err
			}
		}
		return nil
	}
	if err := each(true, func(d *depths, _ *uint64, c *[3]geom.Vec, _ int) { d.draw(c) }); err != nil {
		return err
	}
	return each(false, func(d *depths, seen *uint64, c *[3]geom.Vec, places int) {
		if bits := d.places(c, places); bits != 0 {
			atomic.OrUint64(seen, bits)
		}
	})
}

// places is how many places lie along each side of a triangle.
func places(t *mesh.Triangle) int {
	a, b, c := geom.Point(t[0]), geom.Point(t[1]), geom.Point(t[2])
	longest := max(b.Minus(a).Length(), c.Minus(b).Length(), a.Minus(c).Length())
	return int(min(max(math.Ceil(longest/placeSize), 1), maxPlaces))
}

func ones(bits uint64) (n int) {
	for ; bits != 0; bits &= bits - 1 {
		n++
	}
	return n
}

// depths is a view of the model: for each cell how near its nearest piece is.
type depths struct {
	raster.Grid
	view  View
	from  geom.Vec
	near  []float32
	slack float64 // mm
	drawn int
}

func newDepths(v View, box geom.Box) *depths {
	lo, hi := geom.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, geom.Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, c := range box.Corners() {
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], v[k].Dot(c)), max(hi[k], v[k].Dot(c))
		}
	}
	size := box.Size()
	pitch := max(size[0], size[1], size[2], 1e-3) / across
	d := &depths{Grid: raster.Over(hi[0]-lo[0], hi[1]-lo[1], pitch), view: v, from: lo, slack: 0.2 + pitch/10}
	d.near = make([]float32, d.Cells())
	for i := range d.near {
		d.near[i] = float32(math.Inf(-1))
	}
	return d
}

// placed is a triangle in the view, its third axis toward the viewer.
func (d *depths) placed(t *mesh.Triangle) (c [3]geom.Vec) {
	for k := range 3 {
		p := geom.Point(t[k])
		c[k] = geom.Vec{d.view[0].Dot(p), d.view[1].Dot(p), d.view[2].Dot(p)}.Minus(d.from)
	}
	return c
}

// draw draws a triangle, whichever way it faces.
func (d *depths) draw(c *[3]geom.Vec) {
	if d.drawn > maxDrawn {
		return
	}
	d.Triangle(c, func(cell int, z float64) {
		d.drawn++
		d.near[cell] = max(d.near[cell], float32(z))
	})
}

// places are the places on a triangle that are seen, a bit for each. The plane of the
// triangle is compared with the map on the line of the cell that a place is in.
func (d *depths) places(c *[3]geom.Vec, count int) (bits uint64) {
	u, v := c[1].Minus(c[0]), c[2].Minus(c[0])
	n := u.Cross(v)
	if d.drawn > maxDrawn || n[2] <= facing*n.Length() {
		return 0
	}
	k := 0
	for i := range count {
		for j := range 2*i + 1 {
			at := c[0].Plus(place(u, v, i, j, count))
			cell := d.Cell(at[0], at[1])
			x, y := d.Middle(cell)
			z := at[2] - (n[0]*(x-at[0])+n[1]*(y-at[1]))/n[2]
			if z >= float64(d.near[cell])-d.slack {
				bits |= 1 << k
			}
			k++
		}
	}
	return bits
}

// place is the middle of one of the like triangles that a triangle is cut into: row i
// from its first corner has 2i+1 of them.
func place(u, v geom.Vec, i, j, rows int) geom.Vec {
	n := float64(rows)
	across := float64(j/2) + 1.0/3 // along the row, toward v
	along := float64(i) + 2.0/3
	if j%2 == 1 {
		across, along = float64(j/2)+2.0/3, float64(i)+1.0/3
	}
	s, t := (along-across)/n, across/n
	return u.Times(s).Plus(v.Times(t))
}
