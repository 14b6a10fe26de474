package coupon

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/polygon"
)

// builder gathers the triangles of a plate. A plate is tiles side by side, each a rectangle
// with features whose outlines lie inside it and apart from each other. Tiles share their
// corners, so that the surface is closed.
type builder struct {
	list []mesh.Triangle
	err  error // the first
}

// feature changes the height of a plate within an outline: above the plate it stands up,
// below it is a pocket, and at 0 it goes right through.
type feature struct {
	ring   []polygon.Point
	height float64
}

// rect is a rectangle of the plan of a plate.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) ring() []polygon.Point {
	return []polygon.Point{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}}
}

// Measures of a plate (ours): what stays between features and around them, the floor under
// a pocket, the least thickness, and the dots.
const (
	between  = 3.0
	floor    = 1.2
	thinnest = 4.0
	dotWide  = 1.2
	dotHigh  = 0.8
	dotEvery = 2.0
)

// round is a circle as a polygon about a place; a hole has its sides, a peg its corners on
// the circle, so that no fit is tighter than it says.
func round(x, y, diameter float64, hole bool) []polygon.Point {
	const n = 48
	r := diameter / 2
	if hole {
		r /= math.Cos(math.Pi / n)
	}
	ring := make([]polygon.Point, n)
	for i := range ring {
		a := 2 * math.Pi * float64(i) / n
		ring[i] = polygon.Point{x + r*math.Cos(a), y + r*math.Sin(a)}
	}
	return ring
}

// holes lays out the rows, the first in front, with the clearances from left to right.
func (b *builder) holes(rows []Row, process string) {
	thick, width := thinnest, Steps*dotEvery
	for _, r := range rows {
		thick = max(thick, r.Depth+floor)
		across := r.Across
		if r.groove {
			across = tongueWide
		}
		width = max(width, across+Steps*Step[process])
	}
	width += between
	y := 0.0
	for i, r := range rows {
		deep := r.Across + Clearance(process, Steps) + 2*between + dotWide
		for c := range Steps {
			tile := rect{float64(c) * width, y, float64(c+1) * width, y + deep}
			b.tile(tile, thick, r.features(tile, process, c+1, thick))
			b.sides(tile, thick, [4]bool{i == 0, c == Steps-1, i == len(rows)-1, c == 0})
		}
		y += deep
	}
}

// features are the hole of a row in a tile, and as many dots as its number.
func (r Row) features(tile rect, process string, dots int, thick float64) []feature {
	x := (tile.x0 + tile.x1) / 2
	c := Clearance(process, dots)
	y := tile.y1 - between/2 - (r.Across+c)/2
	height := 0.0
	if r.Depth > 0 {
		height = thick - r.Depth
	}
	hole := feature{round(x, y, r.Across+c, true), height}
	if r.groove {
		w := (tongueWide + c) / 2
		hole.ring = rect{x - w, y - (r.Across+c)/2, x + w, y + (r.Across+c)/2}.ring()
	}
	return append([]feature{hole}, dotsAt(x, tile.y0+between/2+dotWide/2, dots, thick)...)
}

// dotsAt are dots in a row about a place.
func dotsAt(x, y float64, dots int, thick float64) []feature {
	var list []feature
	for i := range dots {
		at := x + (float64(i)-float64(dots-1)/2)*dotEvery
		list = append(list, feature{round(at, y, dotWide, false), thick + dotHigh})
	}
	return list
}

// pegs is the plate with the peg and the tongue.
func (b *builder) pegs() {
	const side = tongueWide + 2*between
	for c, ring := range [][]polygon.Point{
		round(side/2, side/2, pegWidth, false),
		rect{side + (side-tongueWide)/2, (side - tongueThick) / 2, side + (side+tongueWide)/2, (side + tongueThick) / 2}.ring(),
	} {
		tile := rect{float64(c) * side, 0, float64(c+1) * side, side}
		b.tile(tile, thinnest, []feature{{ring, thinnest + standing}})
		b.sides(tile, thinnest, [4]bool{true, c == 1, true, c == 0})
	}
}

// tile is the top and the bottom of a tile with its features.
func (b *builder) tile(r rect, thick float64, features []feature) {
	var all, through [][]polygon.Point
	for _, f := range features {
		all = append(all, f.ring)
		switch {
		case f.height == 0:
			through = append(through, f.ring)
			b.wall(polygon.Turned(f.ring, false), 0, thick)
		case f.height < thick:
			b.lid(f.ring, nil, f.height, true)
			b.wall(polygon.Turned(f.ring, false), f.height, thick)
		default:
			b.lid(f.ring, nil, f.height, true)
			b.wall(polygon.Turned(f.ring, true), thick, f.height)
		}
	}
	b.lid(r.ring(), all, thick, true)
	b.lid(r.ring(), through, 0, false)
}

// sides are the outer walls of a tile: front, right, back, left.
func (b *builder) sides(r rect, thick float64, outer [4]bool) {
	ring := r.ring()
	for i, is := range outer {
		if is {
			b.quad(ring[i], ring[(i+1)%4], 0, thick)
		}
	}
}

// wall stands on a ring and faces to its right.
func (b *builder) wall(ring []polygon.Point, z0, z1 float64) {
	for i, p := range ring {
		b.quad(p, ring[(i+1)%len(ring)], z0, z1)
	}
}

func (b *builder) quad(p, q polygon.Point, z0, z1 float64) {
	at := func(p polygon.Point, z float64) [3]float32 {
		return [3]float32{float32(p[0]), float32(p[1]), float32(z)}
	}
	b.list = append(b.list, mesh.Triangle{at(p, z0), at(q, z0), at(q, z1)}, mesh.Triangle{at(p, z0), at(q, z1), at(p, z1)})
}

// lid lays an outline with holes flat, facing up or down.
func (b *builder) lid(outline []polygon.Point, holes [][]polygon.Point, z float64, up bool) {
	flat, err := polygon.Triangulate(outline, holes)
	b.err = cmp.Or(b.err, err)
	for _, t := range flat {
		if !up {
			slices.Reverse(t[:])
		}
		var out mesh.Triangle
		for c, p := range t {
			out[c] = [3]float32{float32(p[0]), float32(p[1]), float32(z)}
		}
		b.list = append(b.list, out)
	}
}
