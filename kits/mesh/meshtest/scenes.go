package meshtest

import (
	"fmt"
	"math"
	"math/rand"

	"dryfit/kits/mesh"
)

// Scenes to measure how long measuring takes. Lengths are mm.

// scene collects pieces.
type scene struct{ list []Object }

func (s *scene) add(name string, parts ...[]mesh.Triangle) {
	o := Object{Name: fmt.Sprintf("%s-%d", name, len(s.list))}
	for _, p := range parts {
		o.List = append(o.List, p...)
	}
	s.list = append(s.list, o)
}

// Engine is a radial engine of 70 pieces, 0.8 m across, with bores, pins, rods
// and springs: about 0.12 million triangles.
func Engine() []Object {
	var s scene
	s.add("case", Tube(140, 120, 12, 60, 180))
	s.add("case", Tube(140, 120, -60, -12, 180))
	s.add("front", Tube(140, 30, 60, 66, 180))
	s.add("back", Cylinder(140, -66, -60, 180))
	s.add("shaft", Cylinder(29.5, -55, 140, 96))
	s.add("hub", Tube(60, 29.6, 70, 90, 96))
	for k := range 8 {
		angle := 2 * math.Pi * float64(k) / 8
		c, d := math.Cos(angle), math.Sin(angle)
		// A cylinder's own z points outwards.
		out := func(list []mesh.Triangle) []mesh.Triangle {
			return Transform(list, [3][3]float64{{0, -d, c}, {0, c, d}, {-1, 0, 0}}, [3]float64{}, 1)
		}
		s.add("barrel", out(Tube(48, 40.1, 141, 340, 96)), out(Fins(62, 48, 160, 330, 9, 96)))
		s.add("piston", out(Lathe([][2]float64{{40, 250}, {40, 320}, {0.01, 320}, {0.01, 310}, {34, 310}, {34, 250}}, 96)))
		s.add("rod", out(Box([3]float64{-6, -10, 60}, [3]float64{6, 10, 268})))
		s.add("pin", out(Transform(Cylinder(5, -33, 33, 48), [3][3]float64{{1, 0, 0}, {0, 0, 1}, {0, -1, 0}}, [3]float64{0, 0, 280}, 1)))
		s.add("head", out(Cylinder(62, 341, 360, 96)))
		s.add("spring", out(Helix(364, 14, 2, 6, 8, 24, 10)))
		s.add("stem", out(Cylinder(6, 361, 415, 48)))
		s.add("cap", out(Cylinder(18, 415.1, 420, 64)))
	}
	return s.list
}

// Fins is a stack of flat rings round z, each a body of its own.
func Fins(outer, inner, z0, z1 float64, n, segments int) []mesh.Triangle {
	var list []mesh.Triangle
	step := (z1 - z0) / float64(n)
	for i := range n {
		z := z0 + float64(i)*step
		list = append(list, Tube(outer, inner, z, z+step/3, segments)...)
	}
	return list
}

// Helix is a spring round z whose wire begins at z: its radius, that of its wire, its
// rise a turn, and how many turns, segments a turn and sides it has.
func Helix(z, radius, wire, rise float64, turns, segments, sides int) []mesh.Triangle {
	point := func(i, k int) [3]float32 {
		t := 2 * math.Pi * float64(i) / float64(segments)
		a := 2 * math.Pi * float64(k%sides) / float64(sides)
		r := radius + wire*math.Cos(a)
		return [3]float32{float32(r * math.Cos(t)), float32(r * math.Sin(t)), float32(z + rise*t/(2*math.Pi) + wire*math.Sin(a))}
	}
	n := turns * segments
	var list []mesh.Triangle
	for i := range n {
		for k := range sides {
			a, b, c, d := point(i, k), point(i+1, k), point(i+1, k+1), point(i, k+1)
			list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
		}
	}
	for k := 1; k+1 < sides; k++ {
		list = append(list, mesh.Triangle{point(0, 0), point(0, k), point(0, k+1)}, mesh.Triangle{point(n, 0), point(n, k+1), point(n, k)})
	}
	return list
}

// Bookcase is a bookcase of boards, 2 m high, with pins under its shelves.
func Bookcase() []Object {
	var s scene
	board := func(name string, low, high [3]float64) { s.add(name, Box(low, high)) }
	board("side", [3]float64{0, 0, 0}, [3]float64{18, 300, 2000})
	board("side", [3]float64{818, 0, 0}, [3]float64{836, 300, 2000})
	board("back", [3]float64{0, 300, 0}, [3]float64{836, 306, 2000})
	board("top", [3]float64{0, 0, 2000}, [3]float64{836, 306, 2018})
	for i := range 6 {
		z := 80 + 370*float64(i)
		board("shelf", [3]float64{18, 2, z}, [3]float64{818, 298, z + 18})
		for _, y := range []float64{40, 260} {
			for _, x := range []float64{18, 818} {
				along := [3][3]float64{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}
				from := 0.0
				if x > 400 {
					from = -10
				}
				s.add("pin", Transform(Cylinder(2.5, from, from+10, 120), along, [3]float64{x, y, z - 2.5}, 1))
			}
		}
	}
	return s.list
}

// Bricks is a building of n bricks of 2 x 4 studs with sockets: 828 triangles each.
func Bricks(n int) []Object {
	const wide, deep, tall, wall, stud = 16.0, 32.0, 9.6, 1.5, 2.4
	var s scene
	across := int(math.Ceil(math.Cbrt(float64(n) / 2)))
	for i := range n {
		x, y, z := i%across, i/across%across, i/(across*across)
		at := [3]float64{float64(x) * wide, float64(y)*deep + float64(z%2)*deep/2, float64(z) * tall}
		parts := [][]mesh.Triangle{
			Box([3]float64{0, 0, tall - wall}, [3]float64{wide, deep, tall}),
			Box([3]float64{0, 0, 0}, [3]float64{wall, deep, tall - wall}),
			Box([3]float64{wide - wall, 0, 0}, [3]float64{wide, deep, tall - wall}),
			Box([3]float64{wall, 0, 0}, [3]float64{wide - wall, wall, tall - wall}),
			Box([3]float64{wall, deep - wall, 0}, [3]float64{wide - wall, deep, tall - wall}),
		}
		for k := range 8 {
			parts = append(parts, Transform(Cylinder(stud, tall, tall+1.7, 24), Identity,
				[3]float64{4 + 8*float64(k%2), 4 + 8*float64(k/2), 0}, 1))
		}
		var list []mesh.Triangle
		for _, p := range parts {
			list = append(list, Transform(p, Identity, at, 1)...)
		}
		s.add("brick", list)
	}
	return s.list
}

// Crowd is n small pieces, balls, rods and blocks, at equal density.
func Crowd(n int) []Object {
	r := rand.New(rand.NewSource(1))
	var s scene
	across := int(math.Ceil(math.Cbrt(float64(n))))
	for i := range n {
		at := [3]float64{float64(i%across) * 6, float64(i/across%across) * 6, float64(i/(across*across)) * 6}
		turn := RandomRotation(r)
		switch i % 3 {
		case 0:
			s.add("ball", Transform(Sphere(1.5+1.5*r.Float64(), 12, 12), turn, at, 1))
		case 1:
			s.add("rod", Transform(Cylinder(0.6+0.6*r.Float64(), -2.8, 2.8, 24), turn, at, 1))
		default:
			h := 1 + 0.8*r.Float64()
			s.add("block", Transform(Box([3]float64{-h, -h, -1.5}, [3]float64{h, h, 1.5}), turn, at, 1))
		}
	}
	return s.list
}
