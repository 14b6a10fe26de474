package printing

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// convex is the convex hull of points in the plane, counter-clockwise (A. M. Andrew,
// "Another efficient algorithm for convex hulls in two dimensions", Information
// Processing Letters 9, 1979).
func convex(points [][2]float64) [][2]float64 {
	slices.SortFunc(points, func(a, b [2]float64) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	var ring [][2]float64
	for range 2 {
		start := len(ring)
		for _, p := range points {
			for len(ring) >= start+2 && geom.Turn(ring[len(ring)-2], ring[len(ring)-1], p) <= 0 {
				ring = ring[:len(ring)-1]
			}
			ring = append(ring, p)
		}
		ring = ring[:len(ring)-1] // the other half begins with it
		slices.Reverse(points)
	}
	return ring
}

// leastBox is the angle at which the box around a shadow has the least area. One of
// its sides then lies along an edge of the shadow (H. Freeman and R. Shapira,
// "Determining the minimum-area encasing rectangle for an arbitrary closed curve",
// Communications of the ACM 18, 1975).
func leastBox(ring [][2]float64) float64 {
	best, least := 0.0, math.Inf(1)
	try := func(angle float64) {
		if w, d := boxAt(ring, angle); w*d < 0.99*least { // the first of those that are about as good
			best, least = angle, w*d
		}
	}
	try(0)
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		try(math.Atan2(q[1]-p[1], q[0]-p[0]))
	}
	return best
}
