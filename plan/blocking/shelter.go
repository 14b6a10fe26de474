package blocking

import (
	"math/bits"
	"slices"
)

// A cell of air is inside if it sees pieces nearly all around: along the axes, both ways,
// and along the diagonals of its cube.
const (
	sheltered  = 11 // of the 14 directions, at least: a room may have a door; ours
	shelteredA = 4  // of the 6 along the axes, at least
	insideBit  = 1 << 14
)

// look notes for each cell of air in which directions along the axes it sees a piece.
func (r *room) look() {
	r.sight = make([]uint16, len(r.piece))
	for axis := range 3 {
		i, k := (axis+1)%3, (axis+2)%3
		var at [3]int
		for at[i] = 0; at[i] < r.n[i]; at[i]++ {
			for at[k] = 0; at[k] < r.n[k]; at[k]++ {
				r.lookAlong(axis, r.row(at, axis))
			}
		}
	}
}

// row lists the kept blocks along an axis, by their first cells.
func (r *room) row(at [3]int, axis int) []int {
	var list []int
	for at[axis] = range r.n[axis] {
		if b := r.block[(at[2]*r.n[1]+at[1])*r.n[0]+at[0]]; b > 0 {
			list = append(list, int(b-1)*blockCells)
		}
	}
	return list
}

// lookAlong goes along the lines of cells of a row of blocks, up the axis to see what is
// below, then down it.
func (r *room) lookAlong(axis int, blocks []int) {
	strides := [3]int{1, blockSide, blockSide * blockSide}
	stride, u, v := strides[axis], strides[(axis+1)%3], strides[(axis+2)%3]
	for line := range blockSide * blockSide {
		from := line%blockSide*u + line/blockSide*v
		seen := false
		see := func(i int, direction int) {
			if r.piece[i] != 0 {
				seen = true
			} else if seen {
				r.sight[i] |= 1 << direction
			}
		}
		for _, b := range blocks {
			for c := range blockSide {
				see(b+from+c*stride, 2*axis+1)
			}
		}
		seen = false
		for _, b := range slices.Backward(blocks) {
			for c := range blockSide {
				see(b+from+(blockSide-1-c)*stride, 2*axis)
			}
		}
	}
}

// lookAskew notes in which diagonals the cells see a piece that could be inside, and marks
// those that are. A diagonal that leaves those cells before it meets a piece sees none.
func (r *room) lookAskew() {
	layers := r.candidates()
	for diagonal := range 8 {
		var by [3]int
		for k := range by {
			by[k] = 1 - diagonal>>k&1*2
		}
		for n := range layers {
			z := n
			if by[2] > 0 {
				z = len(layers) - 1 - n
			}
			for _, c := range layers[z] {
				to := r.step(int(c), by)
				if to >= 0 && (r.piece[to] != 0 || r.sight[to]&(1<<(6+diagonal)) != 0) {
					r.sight[c] |= 1 << (6 + diagonal)
				}
			}
		}
	}
	for _, layer := range layers {
		for _, c := range layer {
			if bits.OnesCount16(r.sight[c]) >= sheltered {
				r.sight[c] |= insideBit
			}
		}
	}
}

// candidates lists the cells that could be inside, by their layers along z.
func (r *room) candidates() [][]int32 {
	layers := make([][]int32, r.n[2]*blockSide)
	for b, low := range r.lowest {
		for in := range blockCells {
			c := b*blockCells + in
			if r.piece[c] == 0 && bits.OnesCount16(r.sight[c]) >= shelteredA {
				z := low[2] + in/(blockSide*blockSide)
				layers[z] = append(layers[z], int32(c))
			}
		}
	}
	return layers
}

// step is the cell beside one, along all three axes; -1 if it is not kept.
func (r *room) step(i int, by [3]int) int {
	in := i % blockCells
	x, y, z := in%blockSide+by[0], in/blockSide%blockSide+by[1], in/(blockSide*blockSide)+by[2]
	if uint(x) < blockSide && uint(y) < blockSide && uint(z) < blockSide {
		return i - in + (z*blockSide+y)*blockSide + x
	}
	low := r.lowest[i/blockCells]
	return r.index([3]int{low[0] + x, low[1] + y, low[2] + z})
}

func (r *room) isInside(i int) bool { return r.sight[i]&insideBit != 0 }
