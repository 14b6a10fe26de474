package shapes

import "math"

// pipe is a round bar along a line of points, of a radius at each; its ends are
// square to it.
func pipe(line []point, radii []float64, n int) body { return loft(pipeRings(line, radii, n)...) }

// pipeRings are the rings of a pipe, not twisted from one to the next. r is between
// flats.
func pipeRings(line []point, radii []float64, n int) [][]point {
	var rings [][]point
	side := sideways(line[1].minus(line[0]).unit())
	for i, p := range line {
		along := line[min(i+1, len(line)-1)].minus(line[max(i-1, 0)]).unit()
		side = side.minus(along.times(side.dot(along))).unit()
		up := along.cross(side)
		ring := make([]point, n)
		for k := range ring {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(n))
			ring[k] = p.plus(side.times(flats(radii[i], n) * cos)).plus(up.times(flats(radii[i], n) * sin))
		}
		rings = append(rings, ring)
	}
	return rings
}

// sideways is a direction square to another, level where it can be.
func sideways(a point) point {
	if math.Abs(a[2]) < 0.9 {
		return a.cross(point{0, 0, 1}).unit()
	}
	return a.cross(point{0, 1, 0}).unit()
}
