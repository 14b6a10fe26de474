package demo

import (
	"math"
	"slices"
)

// The floor closes the belly from underneath. It carries the battery and has the
// hatch through which that is changed.

const (
	stepAt      = 200.0
	bayFrom     = 222.3 // the bay's floor is flat from here
	bayTo       = 298.0
	bayTop      = 10.0
	hatchTop    = 7.0 // the battery hatch lies under ledges of the floor
	ledgeTo     = 9.2 // pockets of the magnets in the ledges
	batteryFore = 231.0
	batteryAft  = 285.0
	batteryWide = 15.5 // half
	hatchFore   = 225.0
	hatchAft    = 291.0
	hatchWide   = 17.1 // half; 0.2 less than its recess
)

// batteryMagnets are the positions of the magnets of hatch and floor.
var batteryMagnets = []float64{228, 288}

func floorPieces() []maker {
	return []maker{
		{"floor", floorSolid},
		{"step-fairing", stepFairing},
		{"battery-hatch", batteryHatch},
		{"battery-cradle", batteryCradle},
		{"battery-clip", batteryClip},
		{"battery", battery},
		{"snap-lead", snapLead},
		{"switch-plate", switchPlate},
		{"slide-switch", slideSwitch},
		{"plug", func() solid {
			return box(250, -21.8, bayTop, 258, -16, 13.6).add(251, -20.8, 13.6, 257, -17, 14.5).solid()
		}},
		{"magnet-floor.1", func() solid { return disc(batteryMagnets[0], 0, ledgeTo-2, 4) }},
		{"magnet-floor.2", func() solid { return disc(batteryMagnets[1], 0, ledgeTo-2, 4) }},
		{"magnet-battery-hatch.1", func() solid { return disc(batteryMagnets[0], 0, 4.8, 4) }},
		{"magnet-battery-hatch.2", func() solid { return disc(batteryMagnets[1], 0, 4.8, 4) }},
	}
}

func disc(x, y, bottom, across float64) solid {
	return turned(2, vec{x, y}, 20, [2]float64{bottom, across}, [2]float64{bottom + 2, across})
}

// floorRows are mirrored; the keel's row is there once.
var floorRows = mirroredRows(0, 1.05, 2.1, 8, batteryWide, hatchWide+0.2, 21.3, 22.9, 28)

func mirroredRows(half ...float64) []float64 {
	var list []float64
	for _, y := range slices.Backward(half[1:]) {
		list = append(list, -y)
	}
	return append(list, half...)
}

// floorSolid is a lattice of four layers: the bottom, the ledges over the hatch with
// their pockets, the rim under the hull's rails, tabs that find the opening. At the
// step two stations are in one place.
func floorSolid() solid {
	xs := []float64{floorFore, 140, 160, 180, 196, stepAt, stepAt, 210, 221.5, bayFrom, hatchFore - 0.2}
	xs = append(xs, pocketLines(batteryMagnets[0])...)
	xs = append(xs, batteryFore, batteryAft)
	xs = append(xs, pocketLines(batteryMagnets[1])...)
	xs = append(xs, hatchAft+0.2, bayTo, floorAft)
	after := slices.Index(xs, stepAt) + 1
	at := func(i, j, k int) vec {
		x, y := xs[i], floorRows[j]
		bottom := forebody(y)
		if i >= after {
			bottom = afterbody(y)
		}
		inside := bottom + 2
		if x == stepAt {
			inside = afterbody(y) + 2
		}
		if x >= bayFrom && x <= bayTo && math.Abs(y) <= 22.9 {
			inside = hatchTop
		}
		z := [5]float64{bottom, inside, ledgeTo, bayTop, 16}[k]
		if k == 1 || k == 2 {
			x, y = roundPocket(x, y, 2.1)
		}
		return vec{x, y, z}
	}
	full := func(i, j, k int) bool {
		x, next, y := xs[i], xs[i+1], math.Max(math.Abs(floorRows[j]), math.Abs(floorRows[j+1]))
		within := func(from, to float64) bool { return x >= from && next <= to }
		bay, narrow := within(bayFrom, bayTo), y <= batteryWide
		switch k {
		case 0:
			return !(y <= hatchWide+0.2 && within(hatchFore-0.2, hatchAft+0.2))
		case 1, 2:
			if narrow && within(batteryFore, batteryAft) || k == 1 && y <= 2.1 && inPocket(x, next) {
				return false
			}
			return bay || y > 22.9
		}
		return bay && y > 21.3 && y <= 22.9 && !within(hatchFore+4, hatchAft-4) && next < 292
	}
	return lattice{[3]int{len(xs) - 1, len(floorRows) - 1, 4}, at, full, false}.solid()
}

// pocketLines are the stations of a pocket for a 4 mm magnet.
func pocketLines(x float64) []float64 { return []float64{x - 2.1, x - 1.05, x, x + 1.05, x + 2.1} }

func inPocket(x, next float64) bool {
	for _, m := range batteryMagnets {
		if x >= m-2.1 && next <= m+2.1 {
			return true
		}
	}
	return false
}

// roundPocket draws the corners of the square about a magnet onto its circle.
func roundPocket(x, y, r float64) (float64, float64) {
	for _, m := range batteryMagnets {
		dx := x - m
		if square := math.Max(math.Abs(dx), math.Abs(y)); math.Abs(square-r) < 1e-9 {
			f := r / math.Hypot(dx, y)
			return m + dx*f, y * f
		}
	}
	return x, y
}

// stepFairing fills the corner behind the step.
func stepFairing() solid {
	xs := []float64{stepAt, 202, 204.5, 207, 209.5, 212, 214}
	ys := mirroredRows(0, 9, 18, 27)
	return lattice{[3]int{len(xs) - 1, len(ys) - 1, 1}, func(i, j, k int) vec {
		x, y := xs[i], ys[j]
		if k == 1 {
			return vec{x, y, afterbody(y)}
		}
		return vec{x, y, between(forebody(y), afterbody(y), smooth((x-stepAt)/14))}
	}, nil, false}.solid()
}

// batteryHatch carries the V of the afterbody on; its magnets face up.
func batteryHatch() solid {
	xs := append([]float64{hatchFore}, pocketLines(batteryMagnets[0])...)
	xs = append(xs, 240, 258, 276)
	xs = append(xs, pocketLines(batteryMagnets[1])...)
	xs = append(xs, hatchAft)
	ys := mirroredRows(0, 1.05, 2.1, 8, hatchWide)
	return lattice{[3]int{len(xs) - 1, len(ys) - 1, 2}, func(i, j, k int) vec {
		x, y := xs[i], ys[j]
		z := [3]float64{afterbody(y), max(4.8, afterbody(y)+0.5), hatchTop}[k]
		if k > 0 {
			x, y = roundPocket(x, y, 2.1)
		}
		return vec{x, y, z}
	}, func(i, j, k int) bool {
		return k == 0 || !inPocket(xs[i], xs[i+1]) || math.Max(math.Abs(ys[j]), math.Abs(ys[j+1])) > 2.1
	}, false}.solid()
}

// The battery comes up through the hatch into the cradle, its terminals forward,
// up to the clip that stands on the cradle's after end.
func batteryCradle() solid {
	w := box(230, -15, bayTop, 286, 15, 22).cut(231, -13.35, bayTop, 280, 13.35, 22).cut(230, -13.35, 11.4, 231, 13.35, 22)
	for x := 236.0; x < 276; x += 10 {
		w.cut(x, -15, 14, x+6, 15, 19)
	}
	w.cut(282, -10, 12.5, 286, 10, 19.5)
	return w.solid()
}

func battery() solid {
	return box(231.5, -13.25, 9, 279.2, 13.25, 26.5).add(279.2, -12.8, 9.4, 280, 12.8, 26.1).solid()
}

// batteryClip is a bent strip, shaped in the x-z plane.
func batteryClip() solid {
	return prism(1, -12, 12, []spot{{22, 280.4}, {22, 286}, {36, 286}, {38, 284}, {38, 279}, {37, 277}, {29, 276},
		{27, 276.6}, {26.5, 278}, {26.5, 279.4}, {28.2, 279}, {29.8, 278.2}, {35.4, 279.2}, {35.8, 280.4}, {35.4, 282},
		{34.6, 283.2}, {24.2, 283.2}, {23.6, 280.4}})
}

func snapLead() solid {
	return box(223.5, -13, 11.4, 230.3, 13, 28.4).add(230.3, -11, 13, 231.5, -3, 27).add(230.3, 3, 13, 231.5, 11, 27).
		cut(223.5, -13, 26, 225, -9, 28.4).cut(223.5, 9, 26, 225, 13, 28.4).solid()
}

func switchPlate() solid {
	return box(244, 15.6, bayTop, 268, 22.6, 14).cut(251.5, 17.1, 12, 260.5, 21.1, 14).
		cut(245.5, 18.1, 12.5, 247.5, 20.1, 14).cut(264.5, 18.1, 12.5, 266.5, 20.1, 14).solid()
}

func slideSwitch() solid {
	return box(251.5, 17.1, 12, 260.5, 21.1, 14.8).add(253, 18.2, 14.8, 256, 20, 16).solid()
}
