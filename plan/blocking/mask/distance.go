// Package mask computes distances and largest inscribed shapes on binary masks.
package mask

import "math"

// Far is larger than any squared distance in a mask.
const Far = 1e12

// GreatestDistance is the greatest distance from a point of a grid to the nearest
// one marked 0; everything outside the grid counts as 0. All other points are
// marked Far. The grid is modified.
func GreatestDistance(plane []float64, width, height int) float64 {
	Distances(plane, width, height)
	greatest := 0.0
	for _, d := range plane {
		greatest = max(greatest, d)
	}
	return math.Sqrt(greatest)
}

// Distances replaces the marks of a grid by the squares of the distances to the
// nearest 0. Source of the method: P. Felzenszwalb and D. Huttenlocher, "Distance
// transforms of sampled functions", Theory of Computing 8 (2012) 415-428.
func Distances(plane []float64, width, height int) {
	line := make([]float64, max(width, height)+2)
	e := envelope{at: make([]int, len(line)), from: make([]float64, len(line)+1)}
	for x := range width {
		for y := range height {
			line[y+1] = plane[y*width+x]
		}
		line[0], line[height+1] = 0, 0
		e.transform(line[:height+2])
		for y := range height {
			plane[y*width+x] = line[y+1]
		}
	}
	for y := range height {
		row := plane[y*width : (y+1)*width]
		copy(line[1:], row)
		line[0], line[width+1] = 0, 0
		e.transform(line[:width+2])
		copy(row, line[1:])
	}
}

// envelope is the lower envelope of parabolas, one over each point of a line.
type envelope struct {
	at   []int
	from []float64
	out  []float64
}

// transform replaces f by the squares of the distances: the least of f[q]+(p-q)^2.
func (e *envelope) transform(f []float64) {
	k := 0
	e.at[0], e.from[0], e.from[1] = 0, math.Inf(-1), math.Inf(1)
	for q := 1; q < len(f); q++ {
		s := e.meet(f, q, e.at[k])
		for s <= e.from[k] {
			k--
			s = e.meet(f, q, e.at[k])
		}
		k++
		e.at[k], e.from[k], e.from[k+1] = q, s, math.Inf(1)
	}
	e.out = append(e.out[:0], f...)
	k = 0
	for p := range f {
		for e.from[k+1] < float64(p) {
			k++
		}
		d := float64(p - e.at[k])
		f[p] = d*d + e.out[e.at[k]]
	}
}

// meet is where the parabolas over two points cross.
func (e *envelope) meet(f []float64, q, r int) float64 {
	return ((f[q] + float64(q*q)) - (f[r] + float64(r*r))) / float64(2*q-2*r)
}

// DistancesWithin is Distances where nothing around the grid is marked.
func DistancesWithin(plane []float64, width, height int) {
	e := envelope{at: make([]int, max(width, height)), from: make([]float64, max(width, height)+1)}
	line := make([]float64, height)
	for x := range width {
		for y := range height {
			line[y] = plane[y*width+x]
		}
		e.transform(line)
		for y := range height {
			plane[y*width+x] = line[y]
		}
	}
	for y := range height {
		e.transform(plane[y*width : (y+1)*width])
	}
}
