package meshtest

import (
	"fmt"
	"strings"

	"dryfit/kits/mesh"
)

// Cubes is the surface of a union of grid cells of one edge length: the faces
// between two of its cells are left out. Cells are named by their lowest corner; one
// named twice counts once. Cells that meet in an edge only give an edge of four
// faces there.
func Cubes(cells [][3]int, edge float64) []mesh.Triangle {
	full := map[[3]int]bool{}
	var list []mesh.Triangle
	for _, c := range cells {
		full[c] = true
	}
	done := map[[3]int]bool{}
	for _, c := range cells {
		if done[c] {
			continue
		}
		done[c] = true
		for axis := range 3 {
			for side := range 2 {
				next := c
				next[axis] += 2*side - 1
				if !full[next] {
					list = append(list, face(c, axis, side, edge)...)
				}
			}
		}
	}
	return list
}

// face is one side of a cell: side 0 looks down the axis, side 1 up it.
func face(c [3]int, axis, side int, edge float64) []mesh.Triangle {
	u, v := (axis+1)%3, (axis+2)%3
	at := func(du, dv int) [3]float64 {
		p := c
		p[axis] += side
		p[u] += du
		p[v] += dv
		return [3]float64{float64(p[0]) * edge, float64(p[1]) * edge, float64(p[2]) * edge}
	}
	quad := [4][3]float64{at(0, 0), at(1, 0), at(1, 1), at(0, 1)}
	if side == 0 {
		quad[1], quad[3] = quad[3], quad[1]
	}
	return []mesh.Triangle{triangle(quad[0], quad[1], quad[2]), triangle(quad[0], quad[2], quad[3])}
}

// Cells reads cells written as three digits, x y z of the lowest corner: "000 101".
func Cells(text string) [][3]int {
	var cells [][3]int
	for _, word := range strings.Fields(text) {
		var c [3]int
		if len(word) != 3 {
			panic(fmt.Sprintf("meshtest: cell %q is not three digits", word))
		}
		for k := range c {
			c[k] = int(word[k] - '0')
			if c[k] < 0 || c[k] > 9 {
				panic(fmt.Sprintf("meshtest: cell %q is not three digits", word))
			}
		}
		cells = append(cells, c)
	}
	return cells
}
