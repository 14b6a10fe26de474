package blocking

import (
	"cmp"
	"context"
	"slices"
)

// Refinement samples again, with closer lines, wherever single sample lines but
// no four neighbours say something of a pair. What a patch of closer lines agrees
// on is accepted. A lattice that meets every such patch is sampled first, and only
// around the lines of it that say something is everything sampled.
const (
	finerTimes  = 4  // lines of the refinement for one of the first
	closeSize   = 32 // closer lines in a tile, each way
	closeMargin = 8  // around it
	cellSize    = 8  // closer lines in a cell, in which all are sampled
	cellMargin  = 2  // around it: as far as a patch reaches
)

// question is what is asked of a pair of pieces along an axis.
type question struct {
	lo, hi int32
	want   uint8 // bits asked for
	found  uint8 // bits accepted
}

// place is a tile or cell to look at for a question.
type place struct{ id, question int32 }

// closeTile is the tile of the refinement in which a line of a view is.
func (v *view) closeTile(x, y int) int32 {
	return int32(y*finerTimes/closeSize*v.closeCols() + x*finerTimes/closeSize)
}

// closeCols is how many tiles of the refinement are in a row.
func (v *view) closeCols() int { return v.cols*finerTimes/closeSize + 1 }

// refine answers questions in the places given for them, each with a margin of
// lines around it.
func (m *Model) refine(ctx context.Context, v *view, list []question, at []place, p patch, margin int) error {
	fine := v.finer(finerTimes)
	r := &refiner{m: m, list: list, patch: p,
		rough: m.newSampler(fine, closeSize, margin, margin, p.lattice),
		dense: m.newSampler(fine, cellSize, cellMargin, cellMargin, everyLine)}
	for range m.workers.size() {
		r.found = append(r.found, make([]uint8, len(list)))
	}
	r.cells, r.masks = make([][]place, m.workers.size()), make([][]uint8, m.workers.size())
	tiles := tilesFor(at)
	for len(tiles) > 0 {
		n := min(len(tiles), r.rough.room)
		if err := r.batch(ctx, r.open(tiles[:n])); err != nil {
			return err
		}
		tiles = tiles[n:]
	}
	return nil
}

// tilesFor groups places by tile.
func tilesFor(at []place) []tile {
	slices.SortFunc(at, func(a, b place) int { return cmp.Or(cmp.Compare(a.id, b.id), cmp.Compare(a.question, b.question)) })
	var list []tile
	for i, p := range at {
		if i > 0 && p == at[i-1] {
			continue
		}
		if n := len(list); n == 0 || list[n-1].id != int(p.id) {
			list = append(list, tile{id: int(p.id)})
		}
		t := &list[len(list)-1]
		t.pairs = append(t.pairs, p.question)
	}
	return list
}

// refiner holds the state of a refinement.
type refiner struct {
	m     *Model
	list  []question
	patch patch
	rough *sampler
	dense *sampler
	found [][]uint8 // of each worker: bits, by question
	cells [][]place // of each worker: cells to sample
	masks [][]uint8 // of each worker: what the lines of a cell say
}

// open drops the questions that have been answered meanwhile.
func (r *refiner) open(tiles []tile) []tile {
	var out []tile
	for _, t := range tiles {
		t.pairs = slices.DeleteFunc(t.pairs, func(q int32) bool { return r.list[q].want&^r.list[q].found == 0 })
		if len(t.pairs) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// pieces calls want with the pieces that questions of a tile are about.
func (r *refiner) pieces(t *tile, want func(int32)) {
	for _, q := range t.pairs {
		want(r.list[q].lo)
		want(r.list[q].hi)
	}
}

// batch samples some tiles, and the cells where lines say something.
func (r *refiner) batch(ctx context.Context, tiles []tile) error {
	for i := range r.cells {
		r.cells[i] = r.cells[i][:0]
	}
	err := r.rough.sample(ctx, tiles, r.pieces, func(worker, n int, each func(func(x, y int, col *column))) {
		each(func(x, y int, col *column) {
			for _, q := range tiles[n].pairs {
				if r.says(col, q) != 0 {
					r.around(worker, x, y, q)
				}
			}
		})
	})
	if err != nil {
		return err
	}
	cells := tilesFor(slices.Concat(r.cells...))
	for len(cells) > 0 {
		n := min(len(cells), r.dense.room)
		if err := r.inCells(ctx, r.open(cells[:n])); err != nil {
			return err
		}
		cells = cells[n:]
	}
	return nil
}

// says is what a line says that is still asked for.
func (r *refiner) says(col *column, q int32) uint8 {
	k := &r.list[q]
	want := k.want &^ k.found
	if want == 0 {
		return 0
	}
	return col.says(k.lo, k.hi, want, r.m.Depth/r.rough.view.step) & want
}

// around notes the cells in which the middle of a patch with a line may be.
func (r *refiner) around(worker, x, y int, q int32) {
	cols := r.dense.cols
	x0, x1, y0, y1 := (x-1)/cellSize, (x+1)/cellSize, (y-1)/cellSize, (y+1)/cellSize
	for cy := y0; cy <= y1; cy++ {
		for cx := x0; cx <= x1; cx++ {
			c := place{int32(cy*cols + cx), q}
			if n := len(r.cells[worker]); n == 0 || r.cells[worker][n-1] != c {
				r.cells[worker] = append(r.cells[worker], c)
			}
		}
	}
}

// inCells samples some cells and accepts what patches agree on.
func (r *refiner) inCells(ctx context.Context, cells []tile) error {
	width := r.dense.across()
	err := r.dense.sample(ctx, cells, r.pieces, func(worker, n int, each func(func(x, y int, col *column))) {
		pairs, at := cells[n].pairs, r.dense.area(cells[n].id)
		mask := slices.Grow(r.masks[worker][:0], len(pairs)*width*width)[:len(pairs)*width*width]
		clear(mask)
		r.masks[worker] = mask
		each(func(x, y int, col *column) {
			for i, q := range pairs {
				mask[(i*width+y-at.y0)*width+x-at.x0] = r.says(col, q)
			}
		})
		for i, q := range pairs {
			r.found[worker][q] |= r.patch.agreed(mask[i*width*width:(i+1)*width*width], width)
		}
	})
	for _, found := range r.found {
		for _, t := range cells {
			for _, q := range t.pairs {
				r.list[q].found |= found[q]
			}
		}
	}
	return err
}

// agreed is the bits that all lines of some patch in a cell say.
func (p *patch) agreed(mask []uint8, width int) (bits uint8) {
	for y := cellMargin; y < width-cellMargin; y++ {
		for x := cellMargin; x < width-cellMargin; x++ {
			all := uint8(allBits)
			for _, o := range p.offsets {
				if all &= mask[(y+o[1])*width+x+o[0]]; all == 0 {
					break
				}
			}
			bits |= all
		}
	}
	return bits
}

// says is what a line says of two pieces, lo with the lower number. Overlap by
// more than depth codes is a clash; it is measured only if want asks for it.
func (c *column) says(lo, hi int32, want uint8, depth float64) uint8 {
	a, b := c.of(lo), c.of(hi)
	if a == nil || b == nil {
		return 0
	}
	bits := order(c.stretches, *a, *b)
	if want&^(upper|under) != 0 {
		overlaps(c.stretches, *a, *b, func(long uint32, cos float32) {
			if float64(long)*float64(cos) > depth {
				bits |= clashes
			}
		})
	}
	return withClash(bits)
}

// of is where the line meets a piece, nil if it does not.
func (c *column) of(p int32) *met {
	if n := c.seen[p]; int(n) < len(c.pieces) && c.pieces[n].piece == p {
		return &c.pieces[n]
	}
	return nil
}
