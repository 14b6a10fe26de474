package blocking_test

import (
	"math"
	"math/rand"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// scene is solids that do not overlap; kind says how they were made.
type scene struct {
	kind   string
	solids []*convex
}

// kinds of scenes, each with solids of three to eight.
var kinds = []struct {
	name string
	make func(r *rand.Rand, n int) []*convex
}{
	{"boxes turned at random", func(r *rand.Rand, n int) []*convex { return packed(r, n, randomBox) }},
	{"prisms turned at random", func(r *rand.Rand, n int) []*convex { return packed(r, n, randomPrism) }},
	{"boxes on whole millimetres", gridBoxes},
	{"block cut by planes", func(r *rand.Rand, n int) []*convex { return cutBlock(r, n, meshtest.Identity) }},
	{"block cut by planes, turned at random", func(r *rand.Rand, n int) []*convex {
		return cutBlock(r, n, meshtest.RandomRotation(r))
	}},
}

func numberedScene(number int) scene {
	return randomScene(rand.New(rand.NewSource(int64(number))), number)
}

func (s scene) triangles() (lists [][]mesh.Triangle) {
	for _, c := range s.solids {
		lists = append(lists, c.triangles())
	}
	return lists
}

func randomScene(r *rand.Rand, number int) scene {
	k := kinds[number%len(kinds)]
	return scene{k.name, k.make(r, 3+r.Intn(6))}
}

func randomBox(r *rand.Rand) *convex {
	return boxOf(vec{}, vec{3 + 7*r.Float64(), 3 + 5*r.Float64(), 3 + 3*r.Float64()})
}

// randomPrism stands on the hull of points on an ellipse.
func randomPrism(r *rand.Rand) *convex {
	a, b := 2+4*r.Float64(), 1.5+2*r.Float64()
	for {
		var points []vec2
		for range 3 + r.Intn(6) {
			sin, cos := math.Sincos(2 * math.Pi * r.Float64())
			points = append(points, vec2{a * cos, b * sin})
		}
		if base := hull(points); base.largest() > 0.5 {
			return prismOf(base, 3+7*r.Float64())
		}
	}
}

// packed pushes each new solid from outside towards the middle until it all but
// meets another: gaps between a thousandth of a mm and half a mm.
func packed(r *rand.Rand, n int, draw func(*rand.Rand) *convex) []*convex {
	var all []*convex
	for len(all) < n {
		c := draw(r).moved(meshtest.RandomRotation(r), vec{})
		toward, aside := randomUnit(r), times(3*r.Float64(), randomUnit(r))
		margin := 0.001 + 0.5*r.Float64()*r.Float64()
		fits := func(distance float64) *convex {
			m := c.moved(meshtest.Identity, plus(aside, times(distance, toward)))
			for _, other := range all {
				if apart(m, other) < margin {
					return nil
				}
			}
			return m
		}
		near, far := 0.0, 60.0
		best := fits(far)
		for range 16 {
			mid := (near + far) / 2
			if m := fits(mid); m != nil {
				far, best = mid, m
			} else {
				near = mid
			}
		}
		all = append(all, best)
	}
	return all
}

// gridBoxes cuts a box on whole millimetres again and again, along the axes, and
// sometimes leaves a piece out; walls touch exactly.
func gridBoxes(r *rand.Rand, n int) []*convex {
	type box struct{ low, high vec }
	boxes := []box{{vec{}, vec{float64(6 + r.Intn(8)), float64(6 + r.Intn(8)), float64(6 + r.Intn(8))}}}
	for len(boxes) < n+1 {
		largest := 0
		size := func(b box) float64 { s := sub(b.high, b.low); return s[0] * s[1] * s[2] }
		for i, b := range boxes {
			if size(b) > size(boxes[largest]) {
				largest = i
			}
		}
		b := boxes[largest]
		axis := r.Intn(3)
		room := int(b.high[axis] - b.low[axis])
		if room < 2 {
			continue
		}
		x, y := b, b
		x.high[axis] = b.low[axis] + float64(1+r.Intn(room-1))
		y.low[axis] = x.high[axis]
		boxes[largest] = x
		boxes = append(boxes, y)
	}
	if r.Intn(2) == 0 {
		i := r.Intn(len(boxes))
		boxes = append(boxes[:i], boxes[i+1:]...)
	}
	var all []*convex
	for _, b := range boxes {
		all = append(all, boxOf(b.low, b.high))
	}
	return all
}

// cutBlock cuts a block by planes at all angles: pieces that touch all over.
func cutBlock(r *rand.Rand, n int, rotation [3][3]float64) []*convex {
	all := []*convex{boxOf(vec{-8, -6, -5}, vec{8, 6, 5}).moved(rotation, vec{20 * r.Float64(), 0, -5})}
	for len(all) < n {
		i := r.Intn(len(all))
		d := randomUnit(r)
		low, high := all[i].extent(d)
		below, over := all[i].split(d, low+(0.2+0.6*r.Float64())*(high-low))
		if below == nil || below.thin() || over.thin() {
			continue
		}
		all[i] = below
		all = append(all, over)
	}
	return all
}

// thin reports whether some side of the solid is less than 1.5 mm from the other.
func (c *convex) thin() bool {
	for _, n := range c.normals {
		if low, high := c.extent(n); high-low < 1.5 {
			return true
		}
	}
	return false
}
