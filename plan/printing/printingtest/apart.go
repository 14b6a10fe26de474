// Package printingtest checks plates from their triangles alone. It shares no code with
// what makes them.
package printingtest

import (
	"math"

	"dryfit/kits/mesh"
)

type point [2]float64

// Apart is how far the shadows of two solids on the bed are from one another, mm: 0 if
// they overlap, most if it is more.
func Apart(a, b []mesh.Triangle, most float64) float64 {
	const cell = 4.0 // mm; triangles are compared with those of the cells that they come near
	grid := map[[2]int][]int{}
	for i := range b {
		low, high := bounds(flat(&b[i]))
		for x := int(math.Floor(low[0] / cell)); x <= int(math.Floor(high[0]/cell)); x++ {
			for y := int(math.Floor(low[1] / cell)); y <= int(math.Floor(high[1]/cell)); y++ {
				grid[[2]int{x, y}] = append(grid[[2]int{x, y}], i)
			}
		}
	}
	nearest := most
	for i := range a {
		t := flat(&a[i])
		low, high := bounds(t)
		for x := int(math.Floor((low[0] - most) / cell)); x <= int(math.Floor((high[0]+most)/cell)); x++ {
			for y := int(math.Floor((low[1] - most) / cell)); y <= int(math.Floor((high[1]+most)/cell)); y++ {
				for _, j := range grid[[2]int{x, y}] {
					u := flat(&b[j])
					l, h := bounds(u)
					if max(l[0]-high[0], low[0]-h[0], l[1]-high[1], low[1]-h[1]) < nearest {
						nearest = min(nearest, distance(t, u))
					}
				}
			}
		}
	}
	return nearest
}

// Around is the box around the shadow of a solid, and how far down and up it reaches.
func Around(list []mesh.Triangle) (low, high [3]float64) {
	for k := range 3 {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
		for i := range list {
			for _, c := range list[i] {
				low[k], high[k] = min(low[k], float64(c[k])), max(high[k], float64(c[k]))
			}
		}
	}
	return low, high
}

func flat(t *mesh.Triangle) [3]point {
	var f [3]point
	for k, c := range t {
		f[k] = point{float64(c[0]), float64(c[1])}
	}
	return f
}

func bounds(t [3]point) (low, high point) {
	for k := range 2 {
		low[k], high[k] = min(t[0][k], t[1][k], t[2][k]), max(t[0][k], t[1][k], t[2][k])
	}
	return low, high
}

// distance is that of two triangles in the plane; one may be a line.
func distance(t, u [3]point) float64 {
	if within(t[0], u) || within(u[0], t) {
		return 0
	}
	least := math.Inf(1)
	for i := range t {
		for j := range u {
			least = min(least, segments(t[i], t[(i+1)%3], u[j], u[(j+1)%3]))
		}
	}
	return least
}

func side(a, b, p point) float64 { return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) }

// within reports whether a point is in the inside of a triangle.
func within(p point, t [3]point) bool {
	a, b, c := side(t[0], t[1], p), side(t[1], t[2], p), side(t[2], t[0], p)
	return a > 0 && b > 0 && c > 0 || a < 0 && b < 0 && c < 0
}

// segments is the distance of two lines from end to end.
func segments(a, b, c, d point) float64 {
	if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
		return 0
	}
	return min(toLine(a, c, d), toLine(b, c, d), toLine(c, a, b), toLine(d, a, b))
}

func toLine(p, a, b point) float64 {
	x, y := b[0]-a[0], b[1]-a[1]
	f := 0.0
	if l := x*x + y*y; l > 0 {
		f = min(max(((p[0]-a[0])*x+(p[1]-a[1])*y)/l, 0), 1)
	}
	return math.Hypot(p[0]-a[0]-f*x, p[1]-a[1]-f*y)
}
