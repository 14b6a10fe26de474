package demo

import (
	"math"
	"slices"
)

// The beaching gear, on which the finished model stands.

const (
	axleMain  = -15.3
	axleDolly = -18.3
	legOut    = 52.6  // the wheel's side of the leg
	standX    = 212.0 // the model stands here
)

func gearPieces() []maker {
	screw := func() solid { return axleScrew(standX, legOut+8, axleMain) }
	return slices.Concat(sides("beaching-leg", beachingLeg), copies("main-wheel", mainWheel), copies("axle-screw", screw),
		[]maker{
			{"axle-screw.3", func() solid { return axleScrew(141, 23, axleDolly).mirrored() }},
			{"dolly-frame", dollyFrame},
			{"dolly-wheel", func() solid { return wheel(141, 15, axleDolly, 18).mirrored() }},
			{"name-plate", namePlate},
		})
}

// beachingLeg is a strip from a pad on the hull's side, over the spray rail, down to
// the axle.
func beachingLeg() solid {
	inner := []spot{{beam, 15.2}, {34, 15.2}, {40, 10.6}, {45.5, 4}, {46.6, -4}, {47, axleMain + 1.1}, {47, axleMain - 1.1}, {47.6, -22}, {48.6, -25.6}}
	outer := []spot{{beam, 24.4}, {36, 24.4}, {45, 19.4}, {51, 10}, {legOut, 0}, {legOut, axleMain + 1.1}, {legOut, axleMain - 1.1}, {legOut, -22},
		{51.6, -25.6}}
	wide := []float64{10, 10, 7.6, 5.6, 4.8, 4.6, 4.6, 3.8, 2}
	return lattice{[3]int{len(wide) - 1, 3, 1}, func(i, j, k int) vec {
		p := inner[i]
		if k == 1 {
			p = outer[i]
		}
		return vec{standX + [4]float64{-wide[i], -1.1, 1.1, wide[i]}[j], p[0], p[1]}
	}, func(i, j, k int) bool { return !(i == 5 && j == 1) }, false}.solid()
}

func mainWheel() solid { return wheel(standX, legOut, axleMain, 24) }

// wheel is a tyre on a dished disc, from its inner side outward.
func wheel(x, y, z, across float64) solid {
	rim := across * 0.62
	tread := across * 0.93
	return bored(1, vec{x, 0, z}, 40, [2]float64{y, 2.2}, [2]float64{y, 6}, [2]float64{y + 2.4, 6.4}, [2]float64{y + 2.4, rim},
		[2]float64{y + 0.8, rim + 1}, [2]float64{y + 0.9, across * 0.8}, [2]float64{y + 1.8, tread}, [2]float64{y + 3, across},
		[2]float64{y + 6, across}, [2]float64{y + 7.2, tread}, [2]float64{y + 7.9, across * 0.8}, [2]float64{y + 8, rim + 1},
		[2]float64{y + 6.2, rim}, [2]float64{y + 6.2, 7}, [2]float64{y + 8, 6}, [2]float64{y + 8, 2.2})
}

// axleScrew has its head outside the wheel and ends in what carries it.
func axleScrew(x, face, z float64) solid {
	return turned(1, vec{x, 0, z}, 16, [2]float64{face + 1, 3}, [2]float64{face + 0.6, 4}, [2]float64{face, 4}, [2]float64{face, 2},
		[2]float64{face - 10.6, 2}, [2]float64{face - 11, 1.4})
}

// dollyFrame has two saddles cut to the V of the forebody, and a socket for the
// axle in its port side.
func dollyFrame() solid {
	xs := []float64{121, 125, 139.9, 142.1, 157, 161}
	ys := []float64{-15, -11, -9, -4, 0, 4, 9, 11, 15}
	return lattice{[3]int{len(xs) - 1, len(ys) - 1, 5}, func(i, j, k int) vec {
		y := ys[j]
		return vec{xs[i], y, [6]float64{-20.8, axleDolly - 1.1, axleDolly + 1.1, -15.8, -8, forebody(y)}[k]}
	}, func(i, j, k int) bool {
		end := i == 0 || i == len(xs)-2
		switch {
		case k == 1 && i == 2 && j == 0:
			return false
		case k == 3:
			return end && (math.Abs(ys[j]+ys[j+1]) > 18 || math.Abs(ys[j]+ys[j+1]) < 5)
		case k == 4:
			return end
		}
		return k < 3 && (end || math.Abs(ys[j]+ys[j+1]) > 12 || i == 2)
	}, false}.solid()
}

// namePlate lies under the dolly.
func namePlate() solid {
	dents := []dent{{softRect(98.5, -7.5, 183.5, 7.5, 1), -24.2, false}}
	return plate{2, -24.8, -20.8, softRect(96, -10, 186, 10, 2), nil, dents}.solid()
}
