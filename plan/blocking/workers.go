package blocking

import (
	"context"
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// slice is a run of triangles of one piece: the unit of drawing work.
type slice struct{ piece, from, to int }

const sliceSize = 65_536

// slicesOf cuts the meshes of some pieces into slices.
func slicesOf(pieces []*mesh.Mesh, which []int) []slice {
	var list []slice
	for _, p := range which {
		for from := 0; from < pieces[p].Len(); from += sliceSize {
			list = append(list, slice{p, from, min(from+sliceSize, pieces[p].Len())})
		}
	}
	return list
}

// workers holds the workers of one measurement and what each keeps between views.
type workers struct {
	pools []*chunkPool
	bufs  [][]mesh.Triangle
	catch *catch
	*triangles
}

// rest gives back the memory that is needed only while pieces are sampled.
func (c *workers) rest() {
	c.catch = nil
	for i := range c.pools {
		c.pools[i] = &chunkPool{}
	}
}

func newWorkers() *workers {
	c := &workers{}
	for range runtime.GOMAXPROCS(0) {
		c.pools = append(c.pools, &chunkPool{})
		c.bufs = append(c.bufs, make([]mesh.Triangle, mesh.BlockSize))
	}
	return c
}

func (c *workers) size() int { return len(c.pools) }

// share calls do for the numbers 0 to n-1, each worker taking the next. It stops at
// the first error, or when the context ends.
func (c *workers) share(ctx context.Context, n int, do func(worker, i int) error) error {
	var next atomic.Int64
	group, ctx := errgroup.WithContext(ctx)
	for worker := range c.size() {
		group.Go(func() error {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				if err := ctx.Err(); err != nil {
					return err
				}
				if err := do(worker, i); err != nil {
					return err
				}
			}
			return nil
		})
	}
	return group.Wait()
}

// draw collects the events of some pieces on a plate for each worker.
func (c *workers) draw(ctx context.Context, v *view, a area, pieces []*mesh.Mesh, which []int) ([]*plate, error) {
	return c.drawMoved(ctx, v, a, pieces, which, -1, geom.Vec{})
}

// drawMoved is draw with one of the pieces displaced by an offset, in mm.
func (c *workers) drawMoved(ctx context.Context, v *view, a area, pieces []*mesh.Mesh, which []int, moved int, offset geom.Vec) ([]*plate, error) {
	plates := make([]*plate, c.size())
	for i := range plates {
		plates[i] = newPlate(a)
	}
	still := v.scan()
	elsewhere := still.moved(offset)
	work := slicesOf(pieces, which)
	err := c.share(ctx, len(work), func(worker, i int) error {
		s := work[i]
		scan := &still
		if s.piece == moved {
			scan = &elsewhere
		}
		inArea := func(b *run) bool { return !scan.lines(b).meet(a).empty() }
		return c.blocks(worker, c, s, inArea, func(block []mesh.Triangle) {
			scan.draw(block, s.piece, plates[worker], c.pools[worker])
		})
	})
	return plates, err
}

// strips calls do with each strip of a plate, loaded from all workers. Where much stands in
// one place a strip takes seconds: do ends early when the context ends.
func (c *workers) strips(ctx context.Context, plates []*plate, do func(worker int, a area, shared bool, load func(*strip))) error {
	p := plates[0]
	return c.share(ctx, len(p.strips), func(worker, i int) error {
		a := area{p.x0, p.y0 + i*p.stripRows, p.x1, min(p.y0+(i+1)*p.stripRows, p.y1)}
		shared := i+1 < len(p.strips)
		do(worker, a, shared, func(s *strip) {
			lists := make([]*chunks, len(plates))
			for k := range plates {
				lists[k] = &plates[k].strips[i]
			}
			rows := a.y1 - a.y0
			if shared {
				rows++
			}
			s.load(lists, rows*(a.x1-a.x0), c.pools[worker])
		})
		return ctx.Err()
	})
}

// lines draws some pieces and calls do, concurrently, with what each sample line
// of an area meets. The column is valid until do returns.
func (c *workers) lines(ctx context.Context, v *view, a area, pieces []*mesh.Mesh, which []int, do func(x, y int, col *column)) error {
	plates, err := c.draw(ctx, v, a, pieces, which)
	if err != nil {
		return err
	}
	columns := make([]*column, c.size())
	strips := make([]strip, c.size())
	for i := range columns {
		columns[i] = newColumn(len(pieces))
	}
	return c.strips(ctx, plates, func(worker int, part area, _ bool, load func(*strip)) {
		s, col := &strips[worker], columns[worker]
		load(s)
		width := part.x1 - part.x0
		for i := range width * (part.y1 - part.y0) {
			if i%width == 0 && ctx.Err() != nil {
				return
			}
			col.read(s.line(i))
			do(part.x0+i%width, part.y0+i/width, col)
		}
	})
}
