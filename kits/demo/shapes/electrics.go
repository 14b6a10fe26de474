package shapes

import "fmt"

const (
	lampAcross  = 3.0
	cabinLampX  = 203.0
	cabinLampY  = 12.0
	cabinLampZ  = 67.0 // where the holders meet the frame
	trayUnder   = 50.0 // of the resistor tray
	traySeat    = trayUnder + 2
	trayHalfY   = 8.0
	bayFrom     = bulkheadCabin + 2
	switchFloor = plateSeat + 4
)

func electrics() []Piece {
	list := []Piece{
		{"lamp-holder-cockpit", lampHolder(point{beamFrom - 4, 0, 0}, 56, 62)},
		{"lamp-cockpit", hangingLamp(point{beamFrom - 4, 0, 0}, 59)},
		{"resistor-tray", resistorTray()},
		{"resistor-board", resistorBoard()},
		{"switch-plate", prism(alongZ, plateSeat, switchFloor, rectangle(284, -12, 296, 12, 1.5), circle(290, -9, 1), circle(290, 9, 1))},
		{"slide-switch", block(285.5, -2, switchFloor, 294.5, 2, switchFloor+3).add(288, -1, switchFloor, 290.5, 1, switchFloor+4).body()},
		{"plug", plug()},
	}
	for i, side := range []float64{-1, 1} {
		at := point{cabinLampX, side * cabinLampY, 0}
		list = append(list,
			Piece{fmt.Sprintf("lamp-holder-cabin.%d", i+1), lampHolder(at, cabinLampZ-5, cabinLampZ)},
			Piece{fmt.Sprintf("lamp-cabin.%d", i+1), hangingLamp(at, cabinLampZ-2)})
	}
	for i, x := range []float64{135, 160, 185, 210} {
		list = append(list, Piece{fmt.Sprintf("wire-clip.%d", i+1), wireClip(x)})
	}
	return list
}

// lampHolder is a block with a round hole from below, 3 mm deep.
func lampHolder(at point, from, to float64) body {
	outline := rectangle(at[0]-4, at[1]-4, at[0]+4, at[1]+4, 1)
	b := tub(-to, -from-3, -from, outline, circle(at[0], at[1], lampAcross/2+0.1))
	return b.reshaped(func(p point) point { return point{p[0], p[1], -p[2]} })
}

// hangingLamp hangs from its flat end, 5 mm long with a round end below.
func hangingLamp(at point, top float64) body {
	r := flats(lampAcross/2, 24)
	return turned(alongZ, at, 24, [2]float64{top - 5, 0.3 * r}, [2]float64{top - 4.8, 0.6 * r}, [2]float64{top - 4.4, 0.87 * r},
		[2]float64{top - 3.8, r}, [2]float64{top - 0.8, r}, [2]float64{top - 0.6, r}, [2]float64{top, r})
}

func resistorTray() body {
	return tub(trayUnder, traySeat, trayUnder+6, rectangle(bayFrom, -trayHalfY, bayFrom+30, trayHalfY, 0),
		rectangle(bayFrom+1.9, -6.1, bayFrom+28.1, 6.1, 0))
}

// resistorBoard carries seven resistors across it.
func resistorBoard() body {
	from, to := point{bayFrom + 2, -6, traySeat}, point{bayFrom + 28, 6, traySeat + 5}
	parts := []field{brick(from, point{to[0], to[1], traySeat + 1.6}, 0.1)}
	for i := range 7 {
		x := from[0] + 2.6 + 3.5*float64(i)
		parts = append(parts, limb(point{x, -4.4, traySeat + 2.4}, point{x, 4.4, traySeat + 2.4}, 0.7, 0.7),
			limb(point{x, -2.4, traySeat + 3.6}, point{x, 2.4, traySeat + 3.6}, 1.4, 1.4))
	}
	return joined(0.5, parts...).within(from, to).skin(from, to, 0.4)
}

// plug is the socket that hangs on the floor's wires.
func plug() body {
	w := block(286, 14, floorTop, 294, 19.8, floorTop+4.5)
	w.cut(286, 14, floorTop+3.5, 289, 19.8, floorTop+4.5)
	for _, y := range []float64{15.4, 17.6} {
		w.cut(291, y, floorTop+1.5, 294, y+0.8, floorTop+2.3)
	}
	return w.body()
}

// wireClip is a hook on the side of the hull, open upwards.
func wireClip(x float64) body {
	side, low := hullSide-wall, 60.3
	outline := [][2]float64{{side, low}, {side, low + 4}, {side - 1, low + 4}, {side - 1, low + 1.8}, {side - 1.6, low + 1.2},
		{side - 2.4, low + 1.2}, {side - 3, low + 1.8}, {side - 3, low + 3}, {side - 4, low + 3}, {side - 4, low + 1}, {side - 3, low}}
	return prism(alongX, x-3, x+3, outline)
}
