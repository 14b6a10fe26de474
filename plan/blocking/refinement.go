package blocking

import (
	"context"
	"slices"

	"dryfit/kits/mesh"
	"dryfit/plan/blocking/mask"
)

// Refinement samples again, with closer lines, wherever single sample lines but
// no four neighbours say something of a pair. The result is accepted where a
// large enough disc of lines agrees.
const (
	tileSize     = 8   // lines of the first sampling in a tile, each way
	tileMargin   = 2   // lines around it
	finerTimes   = 4   // lines of the refinement for one of the first
	discLines    = 3.5 // closer lines across the smallest disc that is accepted
	stepLines    = 2.5 // the same for the direction of a step
	tilesAtATime = 1500
)

// tile is one place to sample, and the pairs to look for.
type tile struct {
	area  // in lines of the finer view
	pairs []int32
}

// refine settles what single lines said. Afterwards done has all that is
// accepted, which takes a disc of the given width in finer lines.
func (m *Model) refine(ctx context.Context, v *view, slots []tally, disc float64) error {
	at := map[int32]*tile{}
	var order []int32
	columns := int32((v.cols + tileSize - 1) / tileSize)
	for i := range slots {
		s := &slots[i]
		if s.single&^s.done == 0 {
			continue
		}
		slices.Sort(s.tiles)
		for _, id := range slices.Compact(s.tiles) {
			if at[id] == nil {
				x, y := int(id%columns)*tileSize, int(id/columns)*tileSize
				a := area{x, y, x + tileSize, y + tileSize}.grow(tileMargin)
				at[id] = &tile{area: area{a.x0 * finerTimes, a.y0 * finerTimes, a.x1 * finerTimes, a.y1 * finerTimes}}
				order = append(order, id)
			}
			at[id].pairs = append(at[id].pairs, int32(i))
		}
		s.tiles = nil
	}
	slices.Sort(order)
	fine := v.finer(finerTimes)
	for len(order) > 0 {
		n := min(len(order), tilesAtATime)
		var batch []*tile
		for _, id := range order[:n] {
			t := at[id]
			t.pairs = slices.DeleteFunc(t.pairs, func(p int32) bool { return slots[p].single&^slots[p].done == 0 })
			if len(t.pairs) > 0 {
				batch = append(batch, t)
			}
		}
		order = order[n:]
		if err := m.refineTiles(ctx, fine, batch, slots, disc); err != nil {
			return err
		}
	}
	return nil
}

// refineTiles samples a batch of tiles and adds to done what is accepted.
func (m *Model) refineTiles(ctx context.Context, fine *view, batch []*tile, slots []tally, disc float64) error {
	if len(batch) == 0 {
		return nil
	}
	var which []int
	wanted := map[int64]bool{} // tile and piece
	for n, t := range batch {
		for _, p := range t.pairs {
			for _, piece := range []int32{slots[p].lo, slots[p].hi} {
				which = append(which, int(piece))
				wanted[int64(n)<<32|int64(piece)] = true
			}
		}
	}
	slices.Sort(which)
	which = slices.Compact(which)
	grid := newTileGrid(fine, batch)
	plates := make([][]*plate, m.workers.size())
	for i := range plates {
		plates[i] = make([]*plate, len(batch))
	}
	scan := fine.scan()
	work := slicesOf(m.Pieces, which)
	err := m.workers.share(ctx, len(work), func(worker, i int) error {
		s := work[i]
		hit := grid.hits()
		return m.workers.blocks(worker, m.Pieces[s.piece], s, func(block []mesh.Triangle) {
			for k := range block {
				for _, n := range hit(&scan, &block[k]) {
					if !wanted[int64(n)<<32|int64(s.piece)] {
						continue
					}
					if plates[worker][n] == nil {
						plates[worker][n] = newPlate(batch[n].area)
					}
					scan.draw(block[k:k+1], s.piece, plates[worker][n], m.workers.pools[worker])
				}
			}
		})
	})
	if err != nil {
		return err
	}
	found := make([][]uint8, m.workers.size())
	readers := make([]*tileReader, m.workers.size())
	for i := range readers {
		found[i] = make([]uint8, len(slots))
		readers[i] = &tileReader{view: fine, depth: m.Depth, col: newColumn(len(m.Pieces))}
	}
	err = m.workers.share(ctx, len(batch), func(worker, n int) error {
		r := readers[worker]
		r.load(plates, n, m.workers.pools[worker])
		for _, p := range batch[n].pairs {
			if err := ctx.Err(); err != nil {
				return err
			}
			found[worker][p] |= r.pair(batch[n].area, slots[p].lo, slots[p].hi, slots[p].single&^slots[p].done, disc)
		}
		return nil
	})
	for _, list := range found {
		for p, bits := range list {
			slots[p].done |= bits
		}
	}
	return err
}

// tileGrid finds the tiles that a triangle may fall into.
type tileGrid struct {
	batch []*tile
	cell  int
	cols  int
	rows  int
	in    [][]int32
}

func newTileGrid(v *view, batch []*tile) *tileGrid {
	g := &tileGrid{batch: batch, cell: tileSize * finerTimes}
	g.cols, g.rows = v.cols/g.cell+1, v.rows/g.cell+1
	g.in = make([][]int32, g.cols*g.rows)
	for n, t := range batch {
		g.cells(t.area, func(c int) { g.in[c] = append(g.in[c], int32(n)) })
	}
	return g
}

func (g *tileGrid) cells(a area, do func(int)) {
	x1, y1 := min((a.x1-1)/g.cell, g.cols-1), min((a.y1-1)/g.cell, g.rows-1)
	for y := max(a.y0, 0) / g.cell; y <= y1; y++ {
		for x := max(a.x0, 0) / g.cell; x <= x1; x++ {
			do(y*g.cols + x)
		}
	}
}

// hits returns a function that lists the tiles which a triangle may touch, each
// once. The list is valid until the next call.
func (g *tileGrid) hits() func(*scan, *mesh.Triangle) []int32 {
	stamp := make([]int32, len(g.batch))
	count := int32(0)
	var list []int32
	return func(s *scan, t *mesh.Triangle) []int32 {
		list = list[:0]
		a := s.area(t)
		if a.empty() {
			return nil
		}
		if x, y := a.x0/g.cell, a.y0/g.cell; x == (a.x1-1)/g.cell && y == (a.y1-1)/g.cell && x < g.cols && y < g.rows && len(g.in[y*g.cols+x]) == 0 {
			return nil // most triangles are outside all tiles
		}
		count++
		g.cells(a, func(c int) {
			for _, n := range g.in[c] {
				if stamp[n] != count {
					stamp[n] = count
					if !a.meet(g.batch[n].area).empty() {
						list = append(list, n)
					}
				}
			}
		})
		return list
	}
}

// area is the stretch of grid a triangle falls into; empty if no line meets it.
func (s *scan) area(t *mesh.Triangle) area {
	var u, v [3]float64
	for c := range 3 {
		x, y, z := float64(t[c][0]), float64(t[c][1]), float64(t[c][2])
		u[c] = x*s.u[0] + y*s.u[1] + z*s.u[2] - s.u0
		v[c] = x*s.v[0] + y*s.v[1] + z*s.v[2] - s.v0
	}
	return area{
		above(min(u[0], u[1], u[2])), above(min(v[0], v[1], v[2])),
		above(max(u[0], u[1], u[2])), above(max(v[0], v[1], v[2])),
	}
}

// tileReader reads what the lines of a tile say.
type tileReader struct {
	view  *view
	depth float64
	col   *column
	buf   strip
	cols  []fineLine
	mask  []uint8
	plane []float64
}

// fineLine is what one line of a tile meets.
type fineLine struct {
	stretches []stretch
	pieces    []met
}

// load reads the lines of tile n.
func (r *tileReader) load(plates [][]*plate, n int, pool *chunkPool) {
	r.cols = r.cols[:0]
	var first *plate
	for _, p := range plates {
		if p[n] != nil {
			first = p[n]
		}
	}
	if first == nil {
		return
	}
	width := first.x1 - first.x0
	for i := range first.strips {
		var lists []*chunks
		for _, p := range plates {
			if p[n] != nil {
				lists = append(lists, &p[n].strips[i])
			}
		}
		rows := min(first.stripRows, first.y1-first.y0-i*first.stripRows)
		read := rows
		if i+1 < len(first.strips) {
			read++ // the row shared with the next strip is collected here too
		}
		r.buf.load(lists, read*width, pool)
		for k := range rows * width {
			r.col.read(r.buf.line(k))
			r.cols = append(r.cols, fineLine{slices.Clone(r.col.stretches), slices.Clone(r.col.pieces)})
		}
	}
}

// pair returns which of the wanted bits a disc of lines supports.
func (r *tileReader) pair(a area, lo, hi int32, want uint8, disc float64) uint8 {
	if len(r.cols) == 0 {
		return 0
	}
	r.mask = r.mask[:0]
	for i := range r.cols {
		r.mask = append(r.mask, r.says(&r.cols[i], lo, hi))
	}
	var found uint8
	for bit := uint8(1); bit <= allBits; bit <<= 1 {
		if want&bit != 0 && r.disc(a, bit) >= disc {
			found |= bit
		}
	}
	return found
}

// says is what one line says of a pair.
func (r *tileReader) says(l *fineLine, lo, hi int32) uint8 {
	var a, b *met
	for i := range l.pieces {
		switch l.pieces[i].piece {
		case lo:
			a = &l.pieces[i]
		case hi:
			b = &l.pieces[i]
		}
	}
	if a == nil || b == nil {
		return 0
	}
	return withClash(order(l.stretches, *a, *b) | r.overlap(l.stretches, *a, *b))
}

func (r *tileReader) overlap(s []stretch, a, b met) uint8 {
	var bits uint8
	overlaps(s, a, b, func(long uint32, cos float32) {
		if float64(long)*r.view.step*float64(cos) > r.depth {
			bits = clashes
		}
	})
	return bits
}

// disc is the width in lines of the largest disc in which all lines say the bit:
// twice the greatest distance from a line that does to one that does not.
func (r *tileReader) disc(a area, bit uint8) float64 {
	width, height := a.x1-a.x0, a.y1-a.y0
	r.plane = slices.Grow(r.plane[:0], width*height)[:width*height]
	for i, m := range r.mask {
		r.plane[i] = 0
		if m&bit != 0 {
			r.plane[i] = mask.Far
		}
	}
	return 2 * mask.GreatestDistance(r.plane, width, height)
}
