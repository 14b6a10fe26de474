package shapes

import "math"

// skin is the surface of a field inside a box, by marching tetrahedra: every cube of
// a grid is cut into six, and each of those crossed by the surface gives one or two
// triangles (A. Doi and A. Koide, "An efficient method of triangulating
// equi-valued surfaces by using tetrahedral cells", 1991). The box must hold the
// shape whole.
func (f field) skin(from, to point, pitch float64) body {
	g := &skinGrid{from: from, pitch: pitch}
	for k := range g.n {
		g.n[k] = int(math.Ceil((to[k]-from[k])/pitch)) + 3
		g.from[k] -= pitch * 1.37 // flat faces shall not lie in a plane of the grid
	}
	g.d = make([]float64, g.n[0]*g.n[1]*g.n[2])
	for i := range g.d {
		g.d[i] = f(g.place(i))
	}
	var b body
	for x := range g.n[0] - 1 {
		for y := range g.n[1] - 1 {
			for z := range g.n[2] - 1 {
				g.cube(&b, g.index(x, y, z))
			}
		}
	}
	return b.outward()
}

type skinGrid struct {
	from  point
	pitch float64
	n     [3]int
	d     []float64
}

func (g *skinGrid) index(x, y, z int) int { return (x*g.n[1]+y)*g.n[2] + z }

func (g *skinGrid) place(i int) point {
	z := i % g.n[2]
	y := i / g.n[2] % g.n[1]
	x := i / g.n[2] / g.n[1]
	return g.from.plus(point{float64(x), float64(y), float64(z)}.times(g.pitch))
}

// cube cuts the cube whose lowest corner is i along its diagonal.
func (g *skinGrid) cube(b *body, i int) {
	steps := [3]int{g.n[1] * g.n[2], g.n[2], 1}
	end := i + steps[0] + steps[1] + steps[2]
	for _, order := range [6][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {2, 1, 0}, {1, 0, 2}} {
		p := i + steps[order[0]]
		q := p + steps[order[1]]
		if isEven := order[1] == (order[0]+1)%3; isEven {
			g.tetrahedron(b, i, p, q, end)
		} else {
			g.tetrahedron(b, i, q, p, end)
		}
	}
}

// tetrahedron cuts off the corners that lie inside.
func (g *skinGrid) tetrahedron(b *body, c ...int) {
	var in, out []int
	odd := false // whether in, out is an odd arrangement of the corners
	for _, i := range c {
		if g.d[i] < 0 {
			odd = odd != (len(out)%2 == 1)
			in = append(in, i)
		} else {
			out = append(out, i)
		}
	}
	at := func(i, o int) point { return g.cross(in[i], out[o]) }
	var ring []point
	switch len(in) {
	case 1:
		ring = []point{at(0, 0), at(0, 1), at(0, 2)}
	case 2:
		ring = []point{at(0, 0), at(0, 1), at(1, 1), at(1, 0)}
	case 3:
		ring = []point{at(0, 0), at(1, 0), at(2, 0)}
	default:
		return
	}
	if odd {
		ring = backwards(ring)
	}
	for k := 2; k < len(ring); k++ {
		b.triangle(ring[0], ring[k-1], ring[k])
	}
}

// cross is where the surface crosses an edge of the grid; not quite at its ends, so
// that no triangle shrinks to nothing.
func (g *skinGrid) cross(i, o int) point {
	if i > o {
		i, o = o, i
	}
	t := g.d[i] / (g.d[i] - g.d[o])
	return g.place(i).to(g.place(o), min(max(t, 0.02), 0.98))
}
