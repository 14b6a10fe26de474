package meshtest

import (
	"slices"

	"dryfit/kits/mesh"
)

// Block is a box of material, or of air if it is cut, between two opposite corners.
type Block struct {
	Min, Max [3]float64
	Cut      bool
}

// Carved is a solid made of blocks, one after the other: each adds material or takes it
// away. Two of its cells must not meet in an edge alone.
func Carved(blocks ...Block) []mesh.Triangle {
	var planes [3][]float64
	for _, b := range blocks {
		for k := range 3 {
			planes[k] = append(planes[k], b.Min[k], b.Max[k])
		}
	}
	for k := range planes {
		slices.Sort(planes[k])
		planes[k] = slices.Compact(planes[k])
	}
	var list []mesh.Triangle
	for _, t := range Cubes(cellsOf(planes, blocks), 1) {
		for c := range t {
			for k := range 3 {
				t[c][k] = float32(planes[k][int(t[c][k])])
			}
		}
		list = append(list, t)
	}
	return list
}

// cellsOf numbers the cells between planes that have material: the last block at the
// middle of each decides.
func cellsOf(planes [3][]float64, blocks []Block) [][3]int {
	var cells [][3]int
	for x := range len(planes[0]) - 1 {
		for y := range len(planes[1]) - 1 {
			for z := range len(planes[2]) - 1 {
				at := [3]int{x, y, z}
				for _, b := range slices.Backward(blocks) {
					if b.holds(planes, at) {
						if !b.Cut {
							cells = append(cells, at)
						}
						break
					}
				}
			}
		}
	}
	return cells
}

func (b *Block) holds(planes [3][]float64, at [3]int) bool {
	for k, i := range at {
		if planes[k][i] < b.Min[k] || planes[k][i+1] > b.Max[k] {
			return false
		}
	}
	return true
}
