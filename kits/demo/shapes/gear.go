package shapes

// The beaching gear stands on the ground beside the hull and under its bow.
const (
	ground    = -28.0
	legX      = 195.0
	legFace   = hullSide + 24 // y of the face that the wheel runs against
	wheelHalf = 12.0
	axleZ     = ground + wheelHalf
	axle      = 1.0 // radius of the screws
	axleBore  = 1.04
	dollyX    = 150.0
	dollyHalf = 15.0
	dollyAxle = ground + 9
	plateTop  = ground + 4
)

// beachingLeg is the starboard one: a pad on the hull's side, an arm out and down, and
// a boss with a bore for the axle.
func beachingLeg() body {
	const along, across = 8, 4 // faces of the sides of a section
	section := func(z, half, from, to float64) []point {
		var ring []point
		corners := [5][2]float64{{legX - half, from}, {legX + half, from}, {legX + half, to}, {legX - half, to}, {legX - half, from}}
		for side := range 4 {
			steps := along
			if side%2 == 1 {
				steps = across
			}
			a, b := corners[side], corners[side+1]
			for k := range steps {
				t := float64(k) / float64(steps)
				ring = append(ring, point{mix(a[0], b[0], t), hullSide + mix(a[1], b[1], t), z})
			}
		}
		return ring
	}
	rings := [][]point{section(axleZ-4, 3, 17, 23), section(axleZ-3.4, 4, 16, 24)}
	first := len(rings)
	const cells = 6
	for k := range cells + 1 {
		rings = append(rings, section(axleZ-2.4+0.8*float64(k), 4.5, 16, 24))
	}
	rings = append(rings, section(axleZ+4, 4.5, 15, 23), section(axleZ+8, 4.5, 11, 19), section(axleZ+14, 5, 5.5, 13),
		section(axleZ+19, 6.5, 2, 8.5), section(axleZ+22, 8, 0.6, 6), section(axleZ+24, 9.4, 0, 4.6), section(axleZ+28, 10, 0, 3.6),
		section(axleZ+44, 10, 0, 3), section(axleZ+46, 8.5, 0, 2.4))
	outer := along + across // the first corner of the outer side
	windows := []window{{first, outer + 1, first + cells, outer + along - 1}}
	return trunk(rings, windows, func(w int) [][]point {
		var out [][]point
		for _, y := range []float64{legFace, legFace - 2.8} {
			var ring []point
			for _, c := range windows[w].circle() { // the side runs against x
				ring = append(ring, point{legX - axleBore*c[1], y, axleZ + axleBore*c[0]})
			}
			out = append(out, ring)
		}
		return out
	})
}

// wheel has a round tyre and turns on its axle along y; y0 is its inner side.
func wheel(x, y0, z, r float64) body {
	var line [][2]float64
	for _, s := range [][2]float64{{0, 2.6}, {0.6, 3}, {1.2, r - 5.6}, {1, r - 4.6}, {0.4, r - 3.6}, {0.4, r - 2.6}, {0.9, r - 1.4}, {1.8, r - 0.5},
		{3, r - 0.1}, {4, r}} {
		line = append(line, s)
	}
	for i := len(line) - 2; i >= 0; i-- {
		line = append(line, [2]float64{8 - line[i][0], line[i][1]})
	}
	line = append(line, [2]float64{8, axleBore}, [2]float64{0, axleBore})
	for i := range line {
		line[i] = [2]float64{y0 + line[i][0], flats(line[i][1], 40)}
	}
	return bored(alongY, point{x, 0, z}, 40, line...)
}

// axleScrew has its head outside the wheel; side is that to which it looks.
func axleScrew(x, face, z, side float64) body {
	const n = 24
	line := [][2]float64{{1.6, 1.4}, {1.3, 1.8}, {0.9, 2}, {0, 2}, {0, axle}, {-10, axle}, {-10.4, 0.7}}
	for i, s := range line {
		line[i] = [2]float64{face + side*s[0], flats(s[1], n)}
	}
	return turned(alongY, point{x, 0, z}, n, line...)
}

// dolly is a trestle under the keel, with a wheel on its port side; the name plate
// lies under its feet.
func dolly() body {
	outline := [][2]float64{{0, dollyX - 20}, {0, dollyX + 20}, {-4, dollyX + 20}, {-16, dollyX + 14}, {plateTop, dollyX + 14},
		{plateTop, dollyX - 14}, {-16, dollyX - 14}, {-4, dollyX - 20}}
	at := func(list [][2]float64, y float64) []point {
		var ring []point
		for _, p := range list {
			ring = append(ring, point{p[1], y, p[0]})
		}
		return ring
	}
	gap := func(a, b, c [2]float64) hole {
		list := [][2]float64{a, b, c}
		return hole{at(list, -dollyHalf), at(list, dollyHalf), through}
	}
	bore := hole{round(alongY, point{dollyX, -dollyHalf, dollyAxle}, flats(axleBore, 20), 20),
		round(alongY, point{dollyX, -dollyHalf + 2.8, dollyAxle}, flats(axleBore, 20), 20), fromFirst}
	return pierced(alongY, [][]point{at(outline, -dollyHalf), at(outline, dollyHalf)}, bore,
		gap([2]float64{-4, dollyX + 4}, [2]float64{-4, dollyX + 15}, [2]float64{-13, dollyX + 10}),
		gap([2]float64{-4, dollyX - 4}, [2]float64{-4, dollyX - 15}, [2]float64{-13, dollyX - 10}))
}

// namePlate has a sunk field at either end for the lettering.
func namePlate() body {
	at := func(x0, x1, half, z, soft float64) []point {
		return []point{{x0 + soft, -half, z}, {x1 - soft, -half, z}, {x1, soft - half, z}, {x1, half - soft, z},
			{x1 - soft, half, z}, {x0 + soft, half, z}, {x0, half - soft, z}, {x0, soft - half, z}}
	}
	field := func(x0, x1 float64) hole {
		return hole{at(x0, x1, 8, plateTop, 1), at(x0+0.4, x1-0.4, 7.6, plateTop-0.8, 1), fromLast}
	}
	return pierced(alongZ, [][]point{at(dollyX-45, dollyX+45, 10, ground, 1), at(dollyX-45, dollyX+45, 10, plateTop-0.6, 1),
		at(dollyX-44.4, dollyX+44.4, 9.4, plateTop, 1)},
		field(dollyX-43, dollyX-16), field(dollyX+16, dollyX+43))
}

func gear() []Piece {
	list := bothSides("beaching-leg", beachingLeg())
	main := wheel(legX, legFace, axleZ, wheelHalf)
	screw := axleScrew(legX, legFace+8, axleZ, 1)
	return append(list,
		Piece{"main-wheel.1", main.mirrored()}, Piece{"main-wheel.2", main},
		Piece{"axle-screw.1", screw.mirrored()}, Piece{"axle-screw.2", screw},
		Piece{"dolly-frame", dolly()},
		Piece{"dolly-wheel", wheel(dollyX, -dollyHalf-8, dollyAxle, 9)},
		Piece{"axle-screw.3", axleScrew(dollyX, -dollyHalf-8, dollyAxle, -1)},
		Piece{"name-plate", namePlate()})
}
