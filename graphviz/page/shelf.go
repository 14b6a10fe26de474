package page

import (
	"math"

	"dryfit/kits/geom"
)

// shelf is boxes in the order in which they were put there, found by their place.
type shelf struct {
	edge  float64 // mm, of a cell
	boxes []geom.Box
	cells map[cell][]int
	large []int // boxes that take too many cells
}

// cell is the three numbers of a cell in one, with which it is found faster.
type cell uint64

const cellBits = 21 // of each number

// maxCells is how many cells a box may take; larger ones are few.
const maxCells = 64

func newShelf(edge float64) *shelf { return &shelf{edge: edge, cells: map[cell][]int{}} }

func (s *shelf) put(b geom.Box) {
	n := len(s.boxes)
	s.boxes = append(s.boxes, b)
	if !s.each(b, func(c cell) { s.cells[c] = append(s.cells[c], n) }) {
		s.large = append(s.large, n)
	}
}

// first is the number of the first box that overlaps another, -1 if none does.
func (s *shelf) first(b geom.Box) int {
	found := -1
	look := func(list []int) {
		for _, n := range list { // the lists are in order
			if found >= 0 && n >= found {
				return
			}
			if overlap(s.boxes[n], b) {
				found = n
				return
			}
		}
	}
	look(s.large)
	if s.each(b, func(c cell) { look(s.cells[c]) }) {
		return found
	}
	for n := range s.boxes {
		if overlap(s.boxes[n], b) {
			return n
		}
	}
	return -1
}

// each calls do for the cells that a box takes, unless they are too many.
func (s *shelf) each(b geom.Box, do func(cell)) bool {
	var from, to [3]int
	n := 1.0
	for k := range 3 {
		low, high := math.Floor(b.Min[k]/s.edge), math.Floor(b.Max[k]/s.edge)
		n *= high - low + 1
		if !(n <= maxCells) || math.Abs(low) > 1<<(cellBits-2) {
			return false
		}
		from[k], to[k] = int(low), int(high)
	}
	for x := from[0]; x <= to[0]; x++ {
		for y := from[1]; y <= to[1]; y++ {
			for z := from[2]; z <= to[2]; z++ {
				do(cell(x&(1<<cellBits-1))<<(2*cellBits) | cell(y&(1<<cellBits-1))<<cellBits | cell(z&(1<<cellBits-1)))
			}
		}
	}
	return true
}
