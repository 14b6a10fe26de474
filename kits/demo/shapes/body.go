package shapes

import (
	"math"
	"slices"

	"dryfit/kits/mesh"
)

// point is a place or a direction, in mm: x aft from the bow, y to starboard, z up.
type point [3]float64

func (a point) plus(b point) point          { return point{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a point) minus(b point) point         { return point{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a point) times(f float64) point       { return point{a[0] * f, a[1] * f, a[2] * f} }
func (a point) dot(b point) float64         { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a point) length() float64             { return math.Sqrt(a.dot(a)) }
func (a point) unit() point                 { return a.times(1 / a.length()) }
func (a point) flipped() point              { return point{a[0], -a[1], a[2]} }
func mix(a, b, t float64) float64           { return a + (b-a)*t }
func (a point) to(b point, t float64) point { return a.plus(b.minus(a).times(t)) }

func (a point) cross(b point) point {
	return point{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// body is a closed surface. Corners are rounded to float32 as they are added, so
// that what was one place stays one corner in a file.
type body []mesh.Triangle

// triangle leaves out one of which two corners are the same: a row of corners that
// runs together into a point then closes by itself.
func (b *body) triangle(p, q, r point) {
	t := mesh.Triangle{corner(p), corner(q), corner(r)}
	if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
		*b = append(*b, t)
	}
}

// quad is cut along its shorter diagonal.
func (b *body) quad(p, q, r, s point) {
	if r.minus(p).length() <= s.minus(q).length() {
		b.triangle(p, q, r)
		b.triangle(p, r, s)
		return
	}
	b.triangle(p, q, s)
	b.triangle(q, r, s)
}

func corner(p point) [3]float32 {
	var c [3]float32
	for k := range p {
		c[k] = float32(p[k]) + 0 // + 0 makes -0 into 0
	}
	return c
}

func place(c [3]float32) point { return point{float64(c[0]), float64(c[1]), float64(c[2])} }

// outward turns the surface the right way round.
func (b body) outward() body {
	if b.volume() < 0 {
		for i := range b {
			b[i][1], b[i][2] = b[i][2], b[i][1]
		}
	}
	return b
}

func (b body) volume() float64 {
	var six float64
	for _, t := range b {
		six += place(t[0]).dot(place(t[1]).cross(place(t[2])))
	}
	return six / 6
}

// reshaped is the body with every corner moved; the map must not fold it.
func (b body) reshaped(at func(point) point) body {
	var out body
	for _, t := range b {
		out.triangle(at(place(t[0])), at(place(t[1])), at(place(t[2])))
	}
	return out.outward()
}

// mirrored is the piece of the other side.
func (b body) mirrored() body { return b.reshaped(point.flipped) }

func (b body) moved(x, y, z float64) body {
	return b.reshaped(func(p point) point { return p.plus(point{x, y, z}) })
}

// sorted puts numbers in sequence, each once.
func sorted(list []float64) []float64 {
	slices.Sort(list)
	return slices.Compact(list)
}
