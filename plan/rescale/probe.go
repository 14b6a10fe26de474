package rescale

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"sync"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"

	"golang.org/x/sync/errgroup"
)

// A room is measured along lines through a piece that run along an axis of the model.
// Where such a line leaves the piece it goes on until it meets a wall: a piece that
// scales. Several lines are cast, and the tightest counts; a wall that none of them
// meets is missed.
const linesAcross = 5 // and as many the other way

// share is where a line runs, as a share of the piece's width; a little off the middle so
// that it hits no edges of regular shapes.
func share(i int) float64 { return (float64(i)+0.5)*0.9/linesAcross + 0.0537 }

// probe is the lines through a piece along an axis.
type probe struct {
	piece, axis int
	min, max    [2]float64 // of the lines, along the other two axes
	lines       [linesAcross * linesAcross]sight
}

// sight is what one line meets.
type sight struct {
	u, v float64
	hits []hit
}

// hit is where a line goes into a piece, or out of it.
type hit struct {
	along  float64
	piece  int32
	enters bool
}

// probes looks along the three axes through every piece that has a mesh and keeps its
// size or is taken off the finished model.
func (r *Report) probes(ctx context.Context) ([]*probe, error) {
	if r.Was.Meshes == nil {
		return nil, nil
	}
	off := map[int]bool{}
	for _, j := range r.Kit.Joins {
		for _, p := range j.Pieces {
			off[p] = off[p] || j.Opens && !j.IsClose()
		}
	}
	var list []*probe
	for p := range r.Kit.Pieces {
		m := r.Was.Mesh(p)
		for axis := 0; axis < 3 && m != nil && (!r.scales(p) || off[p]); axis++ {
			list = append(list, newProbe(p, axis, m))
		}
	}
	return list, r.cast(ctx, list)
}

// others are the two axes beside one.
func others(axis int) (a, b int) { return (axis + 1) % 3, (axis + 2) % 3 }

func newProbe(piece, axis int, m *mesh.Mesh) *probe {
	a, b := others(axis)
	p := &probe{piece: piece, axis: axis}
	size := m.Size()
	for i := range p.lines {
		p.lines[i].u = m.Min[a] + share(i%linesAcross)*size[a]
		p.lines[i].v = m.Min[b] + share(i/linesAcross)*size[b]
	}
	last := p.lines[len(p.lines)-1]
	p.min, p.max = [2]float64{p.lines[0].u, p.lines[0].v}, [2]float64{last.u, last.v}
	return p
}

// meets reports whether one of the lines may go through a box.
func (p *probe) meets(box geom.Box) bool {
	a, b := others(p.axis)
	return box.Min[a] <= p.max[0] && box.Max[a] >= p.min[0] && box.Min[b] <= p.max[1] && box.Max[b] >= p.min[1]
}

// cast finds what all lines meet, piece by piece: each mesh is read once, on all
// processors.
func (r *Report) cast(ctx context.Context, probes []*probe) error {
	var lock sync.Mutex
	crew, ctx := errgroup.WithContext(ctx)
	crew.SetLimit(runtime.GOMAXPROCS(0))
	for q := range r.Kit.Pieces {
		m := r.Was.Mesh(q)
		if m == nil {
			continue
		}
		near := slices.DeleteFunc(slices.Clone(probes), func(p *probe) bool { return !p.meets(m.Box) })
		if len(near) == 0 {
			continue
		}
		crew.Go(func() error {
			return m.Blocks(func(_ int, block []mesh.Triangle) error {
				for i := range block {
					for _, p := range near {
						p.look(&block[i], int32(q), &lock)
					}
				}
				return ctx.Err()
			})
		})
	}
	err := crew.Wait()
	for _, p := range probes {
		for i := range p.lines {
			slices.SortFunc(p.lines[i].hits, func(a, b hit) int {
				return cmp.Or(cmp.Compare(a.along, b.along), cmp.Compare(a.piece, b.piece))
			})
		}
	}
	return err
}

// look notes where a triangle is met.
func (p *probe) look(t *mesh.Triangle, piece int32, lock *sync.Mutex) {
	a, b := others(p.axis)
	corner := geom.Point(t[0])
	box := geom.Box{Min: corner, Max: corner}.With(geom.Point(t[1])).With(geom.Point(t[2]))
	if !p.meets(box) {
		return
	}
	for i := range p.lines {
		l := &p.lines[i]
		if l.u < box.Min[a] || l.u > box.Max[a] || l.v < box.Min[b] || l.v > box.Max[b] {
			continue
		}
		if along, enters, met := through(t, p.axis, l.u, l.v); met {
			lock.Lock()
			l.hits = append(l.hits, hit{along, piece, enters})
			lock.Unlock()
		}
	}
}

// through is where a line along an axis goes through a triangle, and whether it goes in
// there: the triangle is then seen from outside.
func through(t *mesh.Triangle, axis int, u, v float64) (along float64, enters, met bool) {
	a, b := others(axis)
	var x, y [3]float64
	for i := range 3 {
		x[i], y[i] = float64(t[i][a])-u, float64(t[i][b])-v
	}
	w0, w1, w2 := x[1]*y[2]-x[2]*y[1], x[2]*y[0]-x[0]*y[2], x[0]*y[1]-x[1]*y[0]
	sum := w0 + w1 + w2
	if sum == 0 || w0*sum < 0 || w1*sum < 0 || w2*sum < 0 {
		return 0, false, false
	}
	along = (w0*float64(t[0][axis]) + w1*float64(t[1][axis]) + w2*float64(t[2][axis])) / sum
	return along, sum < 0, true
}
