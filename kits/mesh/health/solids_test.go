package health

import (
	"math"
	"slices"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

func moved(list []mesh.Triangle, x, y, z float32) []mesh.Triangle {
	list = slices.Clone(list)
	for i := range list {
		for c := range list[i] {
			p := &list[i][c]
			*p = [3]float32{p[0] + x, p[1] + y, p[2] + z}
		}
	}
	return list
}

func inverted(list []mesh.Triangle) []mesh.Triangle {
	list = slices.Clone(list)
	for i := range list {
		list[i][1], list[i][2] = list[i][2], list[i][1]
	}
	return list
}

// cube has a corner at the origin and sides of length a.
func cube(a float32) []mesh.Triangle {
	return meshtest.Polyhedron([][3]float32{{0, 0, 0}, {a, 0, 0}, {a, a, 0}, {0, a, 0}, {0, 0, a}, {a, 0, a}, {a, a, a}, {0, a, a}},
		[]int{3, 2, 1, 0}, []int{4, 5, 6, 7}, []int{0, 1, 5, 4}, []int{1, 2, 6, 5}, []int{2, 3, 7, 6}, []int{3, 0, 4, 7})
}

// prism stands on a regular polygon of n corners, with lids that meet in the middle.
func prism(n int, r, h float64) (list []mesh.Triangle) {
	at := func(i int, z float64) [3]float32 {
		a := 2 * math.Pi * float64(i%n) / float64(n)
		return [3]float32{float32(r * math.Cos(a)), float32(r * math.Sin(a)), float32(z)}
	}
	for i := range n {
		a, b, c, d := at(i, 0), at(i+1, 0), at(i+1, h), at(i, h)
		list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d}, mesh.Triangle{{}, b, a}, mesh.Triangle{{0, 0, float32(h)}, d, c})
	}
	return list
}

// torus is divided into n by m: n around the axis, m around the tube.
func torus(n, m int, big, small float64) (list []mesh.Triangle) {
	at := func(i, j int) [3]float32 {
		u, v := 2*math.Pi*float64(i%n)/float64(n), 2*math.Pi*float64(j%m)/float64(m)
		r := big + small*math.Cos(v)
		return [3]float32{float32(r * math.Cos(u)), float32(r * math.Sin(u)), float32(small * math.Sin(v))}
	}
	for i := range n {
		for j := range m {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
		}
	}
	return list
}

func octahedron() []mesh.Triangle {
	return meshtest.Polyhedron([][3]float32{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}},
		[]int{0, 2, 4}, []int{2, 1, 4}, []int{1, 3, 4}, []int{3, 0, 4}, []int{2, 0, 5}, []int{1, 2, 5}, []int{3, 1, 5}, []int{0, 3, 5})
}

func icosahedron() []mesh.Triangle {
	g := float32(math.Phi)
	return meshtest.Polyhedron([][3]float32{{-1, g, 0}, {1, g, 0}, {-1, -g, 0}, {1, -g, 0}, {0, -1, g}, {0, 1, g}, {0, -1, -g}, {0, 1, -g}, {g, 0, -1}, {g, 0, 1}, {-g, 0, -1}, {-g, 0, 1}},
		[]int{0, 11, 5}, []int{0, 5, 1}, []int{0, 1, 7}, []int{0, 7, 10}, []int{0, 10, 11}, []int{1, 5, 9}, []int{5, 11, 4}, []int{11, 10, 2}, []int{10, 7, 6}, []int{7, 1, 8},
		[]int{3, 9, 4}, []int{3, 4, 2}, []int{3, 2, 6}, []int{3, 6, 8}, []int{3, 8, 9}, []int{4, 9, 5}, []int{2, 4, 11}, []int{6, 2, 10}, []int{8, 6, 7}, []int{9, 8, 1})
}
