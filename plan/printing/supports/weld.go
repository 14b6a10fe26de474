package supports

import (
	"context"
	"sync"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// maxWelded bounds the triangles of a part whose corners are joined in memory.
// Beyond it the surface is read again for each turn, and islands are not counted.
const maxWelded = 2_000_000

// welded is a surface whose triangles share their corners.
type welded struct {
	corners []geom.Vec
	faces   [][3]int32
	turned  []geom.Vec // the corners at the turn that is being measured
}

// weld joins corners at the same place.
func (p *Part) weld(ctx context.Context) error {
	if p.welded != nil || p.Triangles > maxWelded {
		return nil
	}
	w := &welded{faces: make([][3]int32, 0, p.Triangles)}
	number := make(map[[3]float32]int32, p.Triangles/2+2)
	err := p.Surface.Blocks(func(_ int, block []mesh.Triangle) error {
		for i := range block {
			var f [3]int32
			for k, c := range block[i] {
				c = [3]float32{c[0] + 0, c[1] + 0, c[2] + 0} // one zero
				n, known := number[c]
				if !known {
					n = int32(len(w.corners))
					number[c] = n
					w.corners = append(w.corners, geom.Point(c))
				}
				f[k] = n
			}
			w.faces = append(w.faces, f)
		}
		return ctx.Err()
	})
	if err != nil {
		return err
	}
	w.turned = make([]geom.Vec, len(w.corners))
	p.welded = w
	return nil
}

// Forget frees the memory that measuring used, for the next part.
func (p *Part) Forget() {
	if p.grid != nil && cap(p.grid.met) <= maxKept {
		grids.Put(p.grid)
	}
	p.welded, p.grid = nil, nil
}

// grids are sample columns that no part uses. Kits have thousands of parts, and each
// would grow its own. Those with more crossings than maxKept are not kept.
var grids = sync.Pool{New: func() any { return new(columns) }}

const maxKept = 500_000

// lines are the sample columns of the part.
func (p *Part) lines() *columns {
	if p.grid == nil {
		p.grid = grids.Get().(*columns)
	}
	return p.grid
}

// each calls do with every triangle at a turn, moved by a vector first.
func (p *Part) each(ctx context.Context, t *Turn, move geom.Vec, do func(i int, c *[3]geom.Vec)) error {
	place := func(v geom.Vec) geom.Vec {
		return geom.Vec{t[0].Dot(v) - move[0], t[1].Dot(v) - move[1], t[2].Dot(v) - move[2]}
	}
	var c [3]geom.Vec
	if w := p.welded; w != nil {
		for i, v := range w.corners {
			w.turned[i] = place(v)
		}
		for i, f := range w.faces {
			c[0], c[1], c[2] = w.turned[f[0]], w.turned[f[1]], w.turned[f[2]]
			do(i, &c)
		}
		return ctx.Err()
	}
	return p.Surface.Blocks(func(first int, block []mesh.Triangle) error {
		for i := range block {
			for k := range 3 {
				c[k] = place(geom.Point(block[i][k]))
			}
			do(first+i, &c)
		}
		return ctx.Err()
	})
}
