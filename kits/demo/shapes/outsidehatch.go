package shapes

import "fmt"

// What can be taken off: the hatches with their magnets, and the door.

const hatchSpare = 0.4 // of a hatch in its opening, on each side

func hatches() []Piece {
	var list []Piece
	deck := rim{hatchFrom, hatchTo, hatchEdge}
	belly := rim{batteryFrom, batteryTo, batteryEdge}
	var onDeck, onBelly []point
	for _, x := range []float64{hatchFrom + hatchMagnetX, hatchTo - hatchMagnetX} {
		for _, y := range []float64{-hatchMagnetY, hatchMagnetY} {
			onDeck = append(onDeck, point{x, y, hatchSeat})
		}
	}
	for _, y := range []float64{-batteryMagnetY, batteryMagnetY} {
		onBelly = append(onBelly, point{batteryMagnetX, y, batteryHatchTop})
	}
	list = append(list,
		Piece{"dorsal-hatch", deck.hatch(hatchSeat, hullTop, 2.55, onDeck)},
		Piece{"battery-hatch", belly.hatch(batteryHatchTop, 0, 2.05, onBelly)})
	for i, p := range onDeck {
		list = append(list, Piece{fmt.Sprintf("magnet-hatch.%d", i+1), rod(alongZ, p, flats(2.5, 32), p[2], p[2]+2, 32)})
	}
	for i, p := range onBelly {
		list = append(list, Piece{fmt.Sprintf("magnet-battery-hatch.%d", i+1), rod(alongZ, p, flats(2, 32), p[2]-2, p[2], 32)})
	}
	return list
}

// rim is an opening in deck or floor, as wide to both sides of the middle line.
type rim struct{ from, to, half float64 }

// hatch lies in the opening, from its seat inside to its outer face, with a blind hole
// 2 deep for each magnet, r wide.
func (o rim) hatch(seat, outer, r float64, magnets []point) body {
	const soft = 0.3 // its outer edge is broken
	into := 1.0
	if outer < seat {
		into = -1
	}
	ring := func(z, in float64) []point {
		x0, x1, y := o.from+hatchSpare+in, o.to-hatchSpare-in, o.half-hatchSpare-in
		return []point{{x0 + 1, -y, z}, {x1 - 1, -y, z}, {x1, 1 - y, z}, {x1, y - 1, z}, {x1 - 1, y, z}, {x0 + 1, y, z}, {x0, y - 1, z}, {x0, 1 - y, z}}
	}
	var holes []hole
	for _, m := range magnets {
		floor := m.plus(point{0, 0, 2 * into})
		holes = append(holes, hole{round(alongZ, m, flats(r, 32), 32), round(alongZ, floor, flats(r, 32), 32), fromFirst})
	}
	return pierced(alongZ, [][]point{ring(seat, 0), ring(outer-soft*into, 0), ring(outer, soft)}, holes...)
}

// rescueDoor is slid open: it stands against the port side aft of its opening.
func rescueDoor() body {
	const from, low, wide, high, thick = doorTo + 1, doorBottom - 0.5, 27.0, 35.0, 2.0
	at := func(u0, u1, v0, v1, y, soft float64) []point {
		u0, u1, v0, v1 = from+u0, from+u1, low+v0, low+v1
		return []point{{u0 + soft, y, v0}, {u1 - soft, y, v0}, {u1, y, v0 + soft}, {u1, y, v1 - soft},
			{u1 - soft, y, v1}, {u0 + soft, y, v1}, {u0, y, v1 - soft}, {u0, y, v0 + soft}}
	}
	panel := func(u0, u1, v0, v1 float64) hole {
		return hole{at(u0, u1, v0, v1, -hullSide-thick, 1.5), at(u0+0.4, u1-0.4, v0+0.4, v1-0.4, -hullSide-thick+0.7, 1.5), fromLast}
	}
	return pierced(alongY, [][]point{at(0, wide, 0, high, -hullSide, 2), at(0, wide, 0, high, -hullSide-thick+0.4, 2),
		at(0.4, wide-0.4, 0.4, high-0.4, -hullSide-thick, 2)},
		panel(6, 21, 20, 31), panel(4, 13, 3, 16), panel(14, 23, 3, 16))
}
