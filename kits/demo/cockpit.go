package demo

import (
	"math"
	"slices"
)

// The cockpit is built on its floor, on the bench.

const (
	cockpitFloor = 28.0 // height of its upper side
	seatTop      = 41.0
	seatMiddle   = 7.9 // off the middle line
	pilotMiddle  = 9.1
)

func cockpitPieces() []maker {
	return slices.Concat(sides("console", console), copies("crew-seat", crewSeat), copies("control-yoke", controlYoke),
		copies("pilot", pilot), []maker{
			{"cockpit-floor", cockpitPlate},
			{"instrument-panel", instrumentPanel},
			{"instrument-light", func() solid { return prism(0, 62.5, 63.5, softRect(-19, 32, 19, 48, 1)) }},
			{"panel-coaming", panelCoaming},
			{"radio-rack", radioRack},
			{"lamp-holder-cockpit", func() solid { return lampHolder(110, -20, 58.3, 64.3, 63.5) }},
			{"lamp-cockpit", func() solid { return lampUp(114, -16, 63.5) }},
			{"canopy", canopy},
		})
}

// cockpitPlate has the rudder pedals in front, where the panel is open below.
func cockpitPlate() solid {
	w := box(62, -22, 24, 116, 22, cockpitFloor)
	for _, y := range []float64{-seatMiddle, seatMiddle} {
		for _, d := range []float64{-3.4, 3.4} {
			w.add(64, y+d-1.6, cockpitFloor, 66, y+d+1.6, 32)
			w.cut(64, y+d-1, 29.5, 65, y+d+1, 31)
		}
	}
	for x := 108.5; x < 115; x += 2 {
		w.cut(x, -20, 27.4, x+1, 20, cockpitFloor)
	}
	return w.solid()
}

func console() solid {
	w := box(67.6, 15, cockpitFloor, 107.6, 22, 42.6)
	w.add(67.6, 15, 42.6, 88, 22, 44)
	w.cut(72, 16, 43.2, 86, 21, 44)
	for x := 73.0; x < 85; x += 3 {
		w.add(x, 16.8, 43.2, x+1.4, 20.2, 43.8)
	}
	w.cut(90, 16.2, 42, 104, 20.8, 42.6)
	w.cut(70, 15, 31, 86, 15.6, 40)
	w.cut(89, 15, 31, 105, 15.6, 40)
	return w.solid()
}

func crewSeat() solid {
	y := seatMiddle
	at := func(x, dy, z float64) vec { return vec{x, y + dy, z} }
	pan := blend(1.2,
		cushion(at(90, -7, 37), at(104, 7, 43), 1.6),
		cushion(at(101, -6.6, 37), at(105.2, 6.6, 54.5), 1.8))
	hollow := cushion(at(80, -12, seatTop), at(101, 12, 60), 0)
	frame := all(
		barrel(at(97, 0, 27), at(97, 0, 38), 2.2),
		cushion(at(92, -5, 27), at(103, 5, 29.4), 0.8),
		limb(at(92.5, -4.6, 29), at(92.5, -4.6, 37), 0.9, 0.9), limb(at(92.5, 4.6, 29), at(92.5, 4.6, 37), 0.9, 0.9))
	return cast(without(blend(0.8, pan, frame), hollow), at(90, -7, cockpitFloor), at(105, 7, 54), 0.7)
}

func controlYoke() solid {
	at := func(x, dy, z float64) vec { return vec{x, seatMiddle + dy, z} }
	rim := without(tyre(0, at(75.7, 0, 41.6), 4.15, 0.8), cushion(at(70, -2.6, 43), at(80, 2.6, 50), 0.3))
	return cast(blend(0.6,
		cushion(at(69, -2.4, 27), at(74, 2.4, 29.4), 0.6),
		limb(at(71, 0, 29), at(74.5, 0, 41), 1.3, 0.9),
		limb(at(75.4, -4, 41), at(75.4, 4, 41), 0.8, 0.8), rim,
		limb(at(75.7, -4.1, 41), at(75.7, -4, 45.4), 0.9, 0.9), limb(at(75.7, 4.1, 41), at(75.7, 4, 45.4), 0.9, 0.9)),
		at(69, -5, cockpitFloor), at(77, 5, 46), 0.4)
}

// instrumentPanel is open below for the pedals and has a hole for each dial, lit
// from in front.
func instrumentPanel() solid {
	var dials [][]spot
	for _, y := range []float64{-16.5, -11.5, -6.5, 6.5, 11.5, 16.5} {
		dials = append(dials, circle(y, 44, 3.4, 16), circle(y, 39, 3.4, 16))
	}
	for _, z := range []float64{36.5, 40.5, 44.5} {
		dials = append(dials, circle(-1.6, z, 2.2, 12), circle(1.6, z, 2.2, 12))
	}
	return prism(0, 63.5, 67.5, []spot{{-21, cockpitFloor}, {-19.4, cockpitFloor}, {-19, 33}, {19, 33},
		{19.4, cockpitFloor}, {21, cockpitFloor}, {21, 47}, {20, 48}, {-20, 48}, {-21, 47}}, dials...)
}

// panelCoaming has a hood before each pilot.
func panelCoaming() solid {
	ring := []spot{{-22, 48}, {22, 48}}
	for i := range 45 {
		y := 22 - float64(i)
		ring = append(ring, spot{y, 49.5 + 4.5*math.Pow(math.Abs(math.Sin(math.Pi*y/22)), 0.6)})
	}
	return prism(0, 62.2, 74.2, ring)
}

func radioRack() solid {
	w := box(108.6, 8.4, 28.2, 118, 26.4, 58.2)
	for n := range 3 {
		z := 29.4 + 9.6*float64(n)
		w.add(108, 9.4, z, 108.6, 25.4, z+8.4)
		w.cut(108, 10.4, z+4.6, 109.2, 15.4, z+7.4)
		for y := 17.0; y < 25; y += 2.6 {
			w.cut(108, y, z+1, 108.6, y+1.4, z+2.6)
			w.cut(108, y, z+5, 108.6, y+1.4, z+6.6)
		}
	}
	return w.solid()
}

// canopy is a thin shell on the foredeck: a sloping windscreen, a dome over the
// pilots' heads, and down to the front of the cabin, against which it stands. The
// panes lie a little below their frames.
func canopy() solid {
	const along, across, thick, pane = 42, 40, 1.0, 0.3
	return lattice{
		cells: [3]int{along + 1, across, 1},
		at: func(i, j, k int) vec {
			u, v := min(float64(i)/along, 1), 2*float64(j)/across-1
			inset := thick * float64(1-k)
			height := max(canopyCrown(u)-inset, 0) * math.Pow(1-math.Pow(math.Abs(v), 1.9), 0.75)
			if frame := i%7 == 0 || i == along-1 || j%10 == 0; k == 1 && !frame && height > 1 {
				height -= pane
			}
			if i > along {
				height = 0
			}
			return vec{between(62.4+inset, roofAt-inset, u), (22 - inset) * v, deckFore + height}
		},
	}.solid()
}

// canopyCrown is the height along the middle line, by the share of the length.
func canopyCrown(u float64) float64 {
	if u < 0.5 {
		return 20 * math.Pow(math.Sin(math.Pi*u), 0.85)
	}
	return between(20, 12.5, smooth((u-0.5)/0.55))
}
