package demo

import "slices"

// What is fitted to the outside of the hull and the wing.

func outsidePieces() []maker {
	return slices.Concat(sides("spray-rail", sprayRail), sides("handrail", handrail), []maker{
		{"rescue-door", rescueDoor},
		{"bollard.1", func() solid { return bollard(8, -3.5) }},
		{"bollard.2", func() solid { return bollard(41.2, -6.5) }},
		{"anchor", anchor},
		{"winch-boom", winchBoom},
		{"winch-hook", winchHook},
		{"searchlight-mount", searchlightMount},
		{"searchlight-housing", searchlightHousing},
		{"searchlight-lens", searchlightLens},
		{"lamp-searchlight", func() solid { return lampAlong(0, vec{0, -17, 85.5}, 124, -1) }},
		{"pitot-mast", pitotMast},
		{"aerial-mast", aerialMast},
	})
}

// sprayRail runs along the flat side above the chine and thins out at both ends.
func sprayRail() solid {
	var rings [][]vec
	for i := range 31 {
		x := 118 + 150*float64(i)/30
		wide := 0.6 + 3.4*smooth((x-116)/24)*smooth((270-x)/24)
		rings = append(rings, []vec{{x, beam, 10}, {x, beam + wide, 10}, {x, beam + wide, 10.6},
			{x, beam + wide*0.62, 12.2}, {x, beam + wide*0.14, 15}, {x, beam, 15}})
	}
	return skin(rings...)
}

// rescueDoor stands slid open before its opening.
func rescueDoor() solid {
	const x, y = doorFrom - 28, -beam
	w := box(x, y-1.6, 24.5, x+27, y, 59.5)
	w.add(x+1, y-2, 25.5, x+26, y-1.6, 58.5).cut(x+3, y-2, 27.5, x+24, y-1.6, 56.5)
	w.cut(x+7, y-2, 43, x+20, y, 53)
	w.add(x+3, y-2, 34, x+24, y-1.6, 35.2).add(x+22, y-2, 37, x+23.2, y-1.6, 41)
	return w.solid()
}

// handrail stands beside the mooring cockpit.
func handrail() solid {
	at := func(x, z float64) vec { return vec{x, 12.5, deckBow + z} }
	bars := []field{limb(at(13.2, 5.2), at(40.8, 5.2), 0.8, 0.8)}
	for _, x := range []float64{12.5, 27, 41.5} {
		top := min(max(x, 13.2), 40.8)
		bars = append(bars, limb(at(x, 0), at(top, 5.2), 0.75, 0.75), barrel(at(x, -1), at(x, 0.9), 1.5))
	}
	return cast(blend(0.5, bars...), vec{11, 11, deckBow}, vec{43, 14, deckBow + 6}, 0.4)
}

func bollard(x, y float64) solid {
	return turned(2, vec{x, y}, 28, [2]float64{0, 5}, [2]float64{0.8, 5}, [2]float64{1.2, 3.4}, [2]float64{2, 2.6},
		[2]float64{3.6, 2.6}, [2]float64{4.4, 3.6}, [2]float64{5, 4}, [2]float64{5.6, 3.6}, [2]float64{6, 2.2}).moved(0, 0, deckBow)
}

// anchor lies behind the bow's step.
func anchor() solid {
	at := func(x, y, z float64) vec { return vec{45.2 + x, -5.2 + y, deckFore + z} }
	parts := []field{
		limb(at(2, 0, 1), at(13.4, 0, 1), 0.9, 1.1),
		tyre(2, at(1.6, 0, 0.9), 1, 0.55),
		limb(at(4.4, 0, 0.9), at(4.4, 0, 4.4), 0.6, 0.6), limb(at(4.4, 0, 0.9), at(4.4, 0, 0), 0.6, 0.6),
		ball(at(4.4, 0, 4.2), 0.9),
	}
	for _, side := range []float64{-1, 1} {
		parts = append(parts,
			limb(at(14.6, 0, 1), at(12.6, side*2.6, 1), 1.2, 1),
			limb(at(12.6, side*2.6, 1), at(9.4, side*4, 1), 1, 0.7),
			cushion(at(8.8, side*4-1.1, -0.4), at(12, side*4+1.1, 1.7), 0.5),
			limb(at(8.4, side*4, 0.7), at(10, side*4.1, 0.7), 0.3, 0.9))
	}
	return fitted(cast(blend(0.5, parts...), at(-1, -6, 0), at(17, 6, 6), 0.42), at(0, -5, 0), at(16, 5, 5))
}

// winchBoom stands on the edge of the cabin's roof, clear of the hatch, and reaches
// out over the door. Its hook hangs below the end.
const boomX = 144.0

func winchBoom() solid {
	at := func(x, y, z float64) vec { return vec{boomX + x, y, z} }
	parts := all(
		cushion(at(-6, -22.4, 74), at(6, -19.4, 76.6), 0.4),
		blend(0.6,
			limb(at(0, -21, 76), at(0, -47, 81.4), 1.6, 1.3),
			limb(at(-4.6, -21, 76), at(-0.4, -35, 79), 0.9, 0.9), limb(at(4.6, -21, 76), at(0.4, -35, 79), 0.9, 0.9),
			cushion(at(-3, -22.4, 75), at(3, -19.4, 80.6), 0.8)),
		cushion(at(-2, -49.4, 79), at(2, -46, 83), 0.2),
		limb(at(-2.2, -47.8, 81.3), at(2.2, -47.8, 81.3), 1.2, 1.2))
	return cast(parts, at(-6, -49.4, deckCabin), at(6, -19.4, 83), 0.5)
}

func winchHook() solid {
	at := func(x, y, z float64) vec { return vec{boomX + x, -47.7 + y, z} }
	shape := blend(0.4,
		barrel(at(0, 0, 76.8), at(0, 0, 80), 1.4),
		limb(at(0, 0, 77), at(0, 0, 75), 0.8, 0.8),
		limb(at(0, 0, 75), at(1.3, 0, 73.8), 0.75, 0.7), limb(at(1.3, 0, 73.8), at(0.6, 0, 72), 0.7, 0.7),
		limb(at(0.6, 0, 72), at(-0.8, 0, 72), 0.7, 0.7), limb(at(-0.8, 0, 72), at(-1.3, 0, 73.4), 0.7, 0.5))
	return fitted(cast(shape, at(-2.4, -2, 70), at(2.4, 2, 79), 0.35), at(-2, -1.5, 71), at(2, 1.5, 79))
}

func searchlightMount() solid {
	return bored(2, vec{122, -17}, 28, [2]float64{75, 10}, [2]float64{76, 10}, [2]float64{76.6, 7}, [2]float64{79, 6},
		[2]float64{80, 8}, [2]float64{81, 8}, [2]float64{81, 2.6}, [2]float64{75, 2.6})
}

// searchlightHousing is a drum, open forward.
func searchlightHousing() solid {
	ring := func(x, across float64) []vec { return round(0, vec{x, -17, 85.5}, across, 28) }
	return skin(ring(127, 5), ring(126.4, 7), ring(125, 8.6), ring(123.6, 9), ring(117, 9), ring(117, 7), ring(124, 6))
}

func searchlightLens() solid {
	return turned(0, vec{0, -17, 85.5}, 28, [2]float64{117, 8}, [2]float64{116.4, 8}, [2]float64{115.8, 6.8}, [2]float64{115.3, 4.6},
		[2]float64{115, 1.6})
}

// pitotMast hangs under the port wing and points forward.
func pitotMast() solid {
	at := func(x, z float64) vec { return vec{x, -200, z} }
	return fitted(cast(blend(0.5,
		limb(at(211, 107), at(208.4, 98), 0.9, 0.8),
		limb(at(208.4, 97.2), at(197.2, 97.2), 0.8, 0.55), limb(at(199, 97.2), at(204, 97.2), 1, 1),
		cushion(vec{207.6, -201, 105}, vec{212, -199, 108}, 0.4)),
		vec{196, -201.4, 95}, vec{212.4, -198.6, 106}, 0.35),
		vec{196, -201, 96}, vec{212, -199, 106})
}

func aerialMast() solid {
	ring := func(x, z, long, wide float64) []vec { return oval(2, vec{x, -3, z}, long, wide, 20) }
	return skin(ring(292.5, 75, 5, 2), ring(292.5, 76, 5, 2), ring(292.9, 77, 3.6, 1.8), ring(293.4, 100, 2, 1.1),
		ring(293.4, 100.4, 2.6, 1.6), ring(293.4, 102, 2.6, 1.6), ring(293.4, 103, 1.4, 0.9))
}
