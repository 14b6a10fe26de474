package blocking

import (
	"context"
	"slices"

	"dryfit/kits/geom"
)

// room is a grid of cells over the model. Only blocks of cells near a piece are kept;
// all else is air outside.
type room struct {
	cell   float64 // edge of a cell, mm
	origin geom.Vec
	n      [3]int  // blocks along each axis
	block  []int32 // number of each block, plus one; 0 if it is not kept
	lowest [][3]int
	piece  []uint16 // in each cell, plus one; 0 for air
	sight  []uint16 // of each cell of air: the directions in which it sees a piece
	pocket []int32  // that each cell belongs to; none or doorway otherwise
}

const (
	blockBits  = 4 // of the place of a cell in its block, along each axis
	blockSide  = 1 << blockBits
	blockCells = blockSide * blockSide * blockSide

	none    int32 = -1 // outside, or a piece
	doorway int32 = -2 // air within what divides two pockets
)

// maxCells bounds the cells of a grid, some 80 MB; cellPitches is the edge of a cell in
// pitches of the measurement, unless that takes more cells.
const (
	maxCells    = 10_000_000
	cellPitches = 3
)

// room fills a grid with the pieces: a cell is filled where a line through its
// middle, along any of the axes, is within a piece in it, no matter how thin.
func (m *Model) room(ctx context.Context, which []int) (*room, error) {
	cell := cellPitches * m.Pitch
	r := m.emptyRoom(which, cell)
	for len(r.lowest)*blockCells > maxCells {
		cell *= 1.25
		r = m.emptyRoom(which, cell)
	}
	r.piece = make([]uint16, len(r.lowest)*blockCells)
	for axis := range 3 {
		if err := m.fillRoom(ctx, r, which, axis); err != nil {
			return nil, err
		}
	}
	r.look()
	r.lookAskew()
	r.pocket = make([]int32, len(r.piece))
	for i := range r.pocket {
		r.pocket[i] = none
	}
	return r, nil
}

// emptyRoom keeps the blocks that are near the boxes of pieces.
func (m *Model) emptyRoom(which []int, cell float64) *room {
	box := m.box(which)
	r := &room{cell: cell}
	size := box.Size()
	for k := range 3 {
		r.origin[k] = box.Min[k] - 2*cell
		r.n[k] = int(size[k]/cell+4)/blockSide + 1
	}
	r.block = make([]int32, r.n[0]*r.n[1]*r.n[2])
	for _, p := range which {
		var from, to [3]int
		for k := range 3 {
			from[k] = int((m.Pieces[p].Min[k]-r.origin[k])/cell-1) / blockSide
			to[k] = min(int((m.Pieces[p].Max[k]-r.origin[k])/cell+1)/blockSide, r.n[k]-1)
		}
		for z := from[2]; z <= to[2]; z++ {
			for y := from[1]; y <= to[1]; y++ {
				for x := from[0]; x <= to[0]; x++ {
					if b := &r.block[(z*r.n[1]+y)*r.n[0]+x]; *b == 0 {
						r.lowest = append(r.lowest, [3]int{x * blockSide, y * blockSide, z * blockSide})
						*b = int32(len(r.lowest))
					}
				}
			}
		}
	}
	return r
}

// index is the number of a cell, -1 if it is not kept.
func (r *room) index(at [3]int) int {
	for k := range 3 {
		if at[k] < 0 || at[k] >= r.n[k]*blockSide {
			return -1
		}
	}
	b := r.block[(at[2]/blockSide*r.n[1]+at[1]/blockSide)*r.n[0]+at[0]/blockSide]
	if b == 0 {
		return -1
	}
	return int(b-1)*blockCells + (at[2]%blockSide*blockSide+at[1]%blockSide)*blockSide + at[0]%blockSide
}

// at is the place of a cell.
func (r *room) at(i int) [3]int {
	low, in := r.lowest[i/blockCells], i%blockCells
	return [3]int{low[0] + in%blockSide, low[1] + in/blockSide%blockSide, low[2] + in/(blockSide*blockSide)}
}

// next is the cell beside one in a direction, -1 if it is not kept: directions are up an
// axis, then down it.
func (r *room) next(i, direction int) int {
	axis, up := direction/2, direction%2 == 0
	shift := blockBits * axis
	in := i >> shift & (blockSide - 1)
	switch {
	case up && in < blockSide-1:
		return i + 1<<shift
	case !up && in > 0:
		return i - 1<<shift
	}
	at := r.at(i)
	if at[axis]--; up {
		at[axis] += 2
	}
	return r.index(at)
}

func (m *Model) fillRoom(ctx context.Context, r *room, which []int, axis int) error {
	var u, v, w geom.Vec
	i, k := (axis+1)%3, (axis+2)%3
	u[i], v[k], w[axis] = 1, 1, 1
	deep := r.n[axis] * blockSide
	seen := &view{u: u, v: v, w: w, pitch: r.cell,
		u0: r.origin[i]/r.cell + 0.5137, v0: r.origin[k]/r.cell + 0.4873, // not on round numbers
		cols: r.n[i] * blockSide, rows: r.n[k] * blockSide,
		w0: r.origin[axis], step: float64(deep) * r.cell / depthCode}
	return m.workers.lines(ctx, seen, area{0, 0, seen.cols, seen.rows}, m.Pieces, which, func(x, y int, col *column) {
		var at [3]int
		at[i], at[k] = x, y
		for _, st := range col.stretches {
			from := int(float64(st.enter) * seen.step / r.cell)
			to := int(float64(st.leave) * seen.step / r.cell)
			for z := from; z <= min(to, deep-1); z++ {
				at[axis] = z
				if c := r.index(at); c >= 0 {
					r.piece[c] = uint16(st.piece + 1)
				}
			}
		}
	})
}

// spread grows from a cell to the neighbours that enter accepts, and lists all cells
// reached.
func (r *room) spread(start int, enter func(to int) bool) []int32 {
	cells := []int32{int32(start)}
	for n := 0; n < len(cells); n++ {
		for direction := range 6 {
			if to := r.next(int(cells[n]), direction); to >= 0 && enter(to) {
				cells = append(cells, int32(to))
			}
		}
	}
	return cells
}

// volume of a number of cells, mm3.
func (r *room) volume(cells int) float64 { return float64(cells) * r.cell * r.cell * r.cell }

// clearance is how wide the widest place of a pocket is, in mm, to a cell: twice the
// greatest distance to what is not in it, along cells.
func (r *room) clearance(cells []int32) float64 {
	own := r.pocket[cells[0]]
	const seen = 1 << 15 // no direction
	var edge []int32
	for _, c := range cells {
		for direction := range 6 {
			if to := r.next(int(c), direction); to < 0 || r.pocket[to] != own {
				r.sight[c] |= seen
				edge = append(edge, c)
				break
			}
		}
	}
	steps := 0
	for ; len(edge) > 0; steps++ {
		var more []int32
		for _, c := range edge {
			for direction := range 6 {
				if to := r.next(int(c), direction); to >= 0 && r.pocket[to] == own && r.sight[to]&seen == 0 {
					r.sight[to] |= seen
					more = append(more, int32(to))
				}
			}
		}
		edge = more
	}
	for _, c := range cells {
		r.sight[c] &^= seen
	}
	return float64(2*steps-1) * r.cell
}

// length is the longest side of the box around some cells, in cells.
func (r *room) length(cells []int32) int {
	size := r.boxOf(cells).Size()
	return int(max(size[0], size[1], size[2])/r.cell + 0.5)
}

// boxOf is the box around some cells, mm.
func (r *room) boxOf(cells []int32) geom.Box {
	low := r.at(int(cells[0]))
	high := low
	for _, c := range cells {
		at := r.at(int(c))
		for k := range 3 {
			low[k], high[k] = min(low[k], at[k]), max(high[k], at[k])
		}
	}
	var box geom.Box
	for k := range 3 {
		box.Min[k] = r.origin[k] + float64(low[k])*r.cell
		box.Max[k] = r.origin[k] + float64(high[k]+1)*r.cell
	}
	return box
}

// beside lists the pieces around or in a pocket.
func (r *room) beside(cells []int32) []int {
	seen := map[uint16]bool{}
	for _, c := range cells {
		for direction := range 6 {
			if to := r.next(int(c), direction); to >= 0 && r.piece[to] > 0 {
				seen[r.piece[to]-1] = true
			}
		}
	}
	var list []int
	for p := range seen {
		list = append(list, int(p))
	}
	slices.Sort(list)
	return list
}
