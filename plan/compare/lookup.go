package compare

import (
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// table holds triangles by the cell of their centre.
type table struct {
	list  []mesh.Triangle
	cells map[cell][]int32
}

type cell [3]int64

// cellSize is the side of a cell, in mm: matching centres are in the same cell or
// in neighbouring ones.
const cellSize = 4 * near

func cellOf(t *mesh.Triangle, by geom.Vec) (c cell) {
	for k := range c {
		c[k] = int64(math.Floor(((float64(t[0][k])+float64(t[1][k])+float64(t[2][k]))/3 + by[k]) / cellSize))
	}
	return c
}

// lookUp pairs each triangle of a with the one of b that it moved to.
func lookUp(a, b *mesh.Mesh, by geom.Vec) (bool, error) {
	t := table{make([]mesh.Triangle, b.Len()), make(map[cell][]int32, b.Len())}
	if _, err := b.Read(0, t.list); err != nil {
		return false, err
	}
	for i := range t.list {
		c := cellOf(&t.list[i], geom.Vec{})
		t.cells[c] = append(t.cells[c], int32(i))
	}
	same := true
	err := a.Blocks(func(_ int, block []mesh.Triangle) error {
		for i := range block {
			same = same && t.take(&block[i], by)
		}
		return nil
	})
	return same, err
}

// take finds the triangle that another moved to, and removes it.
func (t *table) take(moved *mesh.Triangle, by geom.Vec) bool {
	c := cellOf(moved, by)
	for i := range int64(27) {
		at := cell{c[0] + i/9 - 1, c[1] + i/3%3 - 1, c[2] + i%3 - 1}
		in := t.cells[at]
		for k, u := range in {
			if sameTriangle(moved, &t.list[u], by) {
				in[k] = in[len(in)-1]
				t.cells[at] = in[:len(in)-1]
				return true
			}
		}
	}
	return false
}
