package demo

import (
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// vec is a point or a direction, in mm: x aft, y to starboard, z up.
type vec = geom.Vec

func at(x, y, z float64) vec { return vec{x, y, z} }

func between(a, b, t float64) float64 { return a + (b-a)*t }

// solid is a closed surface, its triangles counter-clockwise seen from outside.
// Corners are rounded to float32 as they are added, so that corners that were
// equal stay equal in a file.
type solid []mesh.Triangle

// triangle adds a triangle, unless two of its corners are one: a grid whose edge
// runs into a point closes by itself when the flat triangles there are left out.
func (s *solid) triangle(a, b, c vec) {
	t := mesh.Triangle{corner(a), corner(b), corner(c)}
	if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
		*s = append(*s, t)
	}
}

// quad adds two triangles, cut along the diagonal that does not fold them over, and
// of two such that leaves the fatter ones.
func (s *solid) quad(a, b, c, d vec) {
	first, second := min(area(a, b, c), area(a, c, d)), min(area(a, b, d), area(b, c, d))
	if folded(a, b, c, d) {
		first = 0
	}
	if folded(b, c, d, a) {
		second = 0
	}
	if first >= second {
		s.triangle(a, b, c)
		s.triangle(a, c, d)
		return
	}
	s.triangle(a, b, d)
	s.triangle(b, c, d)
}

// folded reports whether the triangles on either side of the diagonal from a to c
// face away from each other.
func folded(a, b, c, d vec) bool {
	return b.Minus(a).Cross(c.Minus(a)).Dot(c.Minus(a).Cross(d.Minus(a))) < 0
}

// area is large for two corners in one place: such a triangle costs nothing.
func area(a, b, c vec) float64 {
	if p, q, r := corner(a), corner(b), corner(c); p == q || q == r || r == p {
		return math.Inf(1)
	}
	return b.Minus(a).Cross(c.Minus(a)).Length()
}

func corner(p vec) [3]float32 {
	return [3]float32{rounded(p[0]), rounded(p[1]), rounded(p[2])}
}

// rounded adds 0 so that there is no negative zero.
func rounded(v float64) float32 { return float32(v) + 0 }

// outward turns the surface so that its triangles face outward.
func (s solid) outward() solid {
	if s.volume() < 0 {
		s.turnOver()
	}
	return s
}

func (s solid) turnOver() {
	for i := range s {
		s[i][1], s[i][2] = s[i][2], s[i][1]
	}
}

func (s solid) volume() float64 {
	var six float64
	for _, t := range s {
		a, b, c := geom.Point(t[0]), geom.Point(t[1]), geom.Point(t[2])
		six += a.Dot(b.Cross(c))
	}
	return six / 6
}

// bounds is the box along the axes.
func (s solid) bounds() geom.Box {
	first := geom.Point(s[0][0])
	b := geom.Box{Min: first, Max: first}
	for _, t := range s {
		for _, p := range t {
			b = b.With(geom.Point(p))
		}
	}
	return b
}

// mapped is the solid with every corner moved. The map must not fold it.
func (s solid) mapped(at func(vec) vec) solid {
	var out solid
	for _, t := range s {
		out.triangle(at(geom.Point(t[0])), at(geom.Point(t[1])), at(geom.Point(t[2])))
	}
	return out.outward()
}

func (s solid) moved(x, y, z float64) solid {
	return s.mapped(func(p vec) vec { return p.Plus(vec{x, y, z}) })
}

// mirrored is the piece of the other side.
func (s solid) mirrored() solid {
	return s.mapped(func(p vec) vec { return vec{p[0], -p[1], p[2]} })
}
