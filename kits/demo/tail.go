package demo

import (
	"math"
	"slices"
)

// The tail stands on the flat deck before the stern, shaped like a T: two halves of the
// fin, a tailplane at its top on either side on two rods through both, rudder and
// elevators. The propellers turn below the tailplane.

const (
	finFoot    = deckTail
	finTop     = 164.0
	finAft     = 424.0
	finPad     = 5.0 // half the fin's width where the tailplanes meet it
	planeZ     = 156.0
	padFrom    = planeZ - 5.5
	padTo      = planeZ + 5.5
	planeRoot  = 374.0
	planeTip   = 97.0
	lightTop   = 85.0 // of the chamber for the tail light
	rudderFoot = 86.5
)

var rodsAt = []float64{385, 405}

func tailPieces() []maker {
	return slices.Concat(sides("fin", fin), sides("tailplane", tailplane), sides("elevator", elevator), []maker{
		{"rudder", rudder},
		{"tail-lens", tailLens},
		{"lamp-tail", func() solid { return lampAlong(0, vec{0, 0, 82.5}, 418, 1) }},
		{"tailplane-rod.1", func() solid { return rod(1, vec{rodsAt[0], 0, planeZ}, 1.5, -20, 20, 12) }},
		{"tailplane-rod.2", func() solid { return rod(1, vec{rodsAt[1], 0, planeZ}, 1.5, -20, 20, 12) }},
	})
}

// rodLines are the stations on either side of each rod's hole.
func rodLines(half float64) []float64 {
	var list []float64
	for _, x := range rodsAt {
		list = append(list, x-half, x+half)
	}
	return list
}

// besideRod reports whether a cell between two stations is a hole.
func besideRod(x, next, half float64) bool {
	for _, r := range rodsAt {
		if x >= r-half-1e-9 && next <= r+half+1e-9 {
			return true
		}
	}
	return false
}

var finColumns = func() []float64 {
	list := append([]float64{354, 354.3, 355, 356.2, 358, 361, 365, 371, 374, 379, 390, 395, 400, 410, 415, 419.5, finAft}, rodLines(0.8)...)
	slices.Sort(list)
	return list
}()

var finRows = []float64{finFoot, 82, lightTop, 90, 97, 104, 112, 120, 128, 136, 143, padFrom - 0.5, padFrom + 0.5, planeZ - 0.8, planeZ + 0.8,
	padTo - 0.5, padTo + 0.5, 163.2, finTop}

// finEdge is the leading edge.
func finEdge(z float64) float64 {
	u := (z - finFoot) / (finTop - finFoot)
	return 354 + 16.5*u
}

// finX is the position of a column of the fin. About the tailplane the columns behind
// the nose are upright, so that the rods' holes are square.
func finX(i int, z float64) float64 {
	x := finColumns[i]
	edge := finEdge(z)
	if z > padFrom && z < padTo {
		return max(x, between(edge, 371, min((x-354)/(371-354), 1)))
	}
	return between(edge, finAft, (x-354)/(finAft-354))
}

// finHalf is half the width.
func finHalf(x, z float64) float64 {
	edge := finEdge(z)
	u := (x - edge) / (finAft - edge)
	h := between(4.5, 2.2, (z-finFoot)/(finTop-finFoot)) * math.Min(1, math.Sqrt(max(u, 0)/0.3)) * (1 - 0.4*smooth((u-0.35)/0.65))
	if z > padFrom && z < padTo && x > 370.5 {
		return finPad
	}
	return h * math.Sqrt(1-math.Pow(max(z-160, 0)/5, 2))
}

// fin is the starboard half: its flat side in the middle, a chamber for the tail
// light and its lead at the foot.
func fin() solid {
	at := func(i, j, k int) vec {
		z := finRows[j]
		x := finX(i, z)
		h := finHalf(x, z)
		deep := min(h-1.2, 3.2)
		if finColumns[i] >= 415 && z <= lightTop {
			deep = 1.5
		}
		return vec{x, [3]float64{0, max(deep, h*0.3), h}[k], z}
	}
	full := func(i, j, k int) bool {
		x, next := finColumns[i], finColumns[i+1]
		if k == 0 && x >= 395 && finRows[j+1] <= lightTop {
			return false
		}
		return !(besideRod(x, next, 0.8) && finRows[j] == planeZ-0.8)
	}
	return lattice{[3]int{len(finColumns) - 1, len(finRows) - 1, 2}, at, full, false}.solid()
}

func rudder() solid {
	var zs []float64
	for i := range 25 {
		zs = append(zs, between(rudderFoot, 162.5, float64(i)/24))
	}
	us := []float64{0, 0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95, 1}
	return lattice{[3]int{len(us) - 1, len(zs) - 1, 2}, func(i, j, k int) vec {
		v := float64(j) / 24
		chord := 26 * (0.8 + 0.2*math.Sin(math.Pi*min(v*1.6, 1))) * math.Sqrt(max(1-math.Pow(v, 7), 0.05)) *
			math.Sqrt(1-0.7*math.Pow(1-v, 12))
		half := between(3, 1.5, v) * (1 - 0.88*us[i]) * math.Sqrt(max(1-math.Pow(v, 20), 0.1))
		return vec{finAft + chord*us[i]/0.998, float64(k-1) * half, zs[j]}
	}, nil, false}.solid()
}

// tailLens is a drop behind the foot of the fin.
func tailLens() solid {
	var rings [][]vec
	for _, s := range [][2]float64{{finAft, 1}, {425.6, 1}, {426.8, 0.92}, {427.9, 0.74}, {428.6, 0.5}, {429, 0.2}} {
		rings = append(rings, oval(0, vec{s[0], 0, 82.6}, 5*s[1], 6*s[1], 24))
	}
	return skin(rings...)
}

var planeColumns = func() []float64 {
	list := append([]float64{374, 374.3, 375, 376.2, 378, 381, 390, 396, 411, 417, finAft}, rodLines(0.85)...)
	slices.Sort(list)
	return list
}()

// planeX narrows the tailplane outside the rods.
func planeX(i int, y float64) float64 {
	out := max(y-21, 0) / (planeTip - 21)
	edge := planeRoot + 16*out + 10*math.Pow(out, 8)
	return between(edge, finAft, (planeColumns[i]-planeRoot)/(finAft-planeRoot))
}

// planeHalf is half the thickness, u along the chord.
func planeHalf(u, y float64) float64 {
	out := max(y-21, 0) / (planeTip - 21)
	return between(3, 2.2, out) * math.Min(1, math.Sqrt(max(u, 0)/0.25)) * (1 - 0.22*smooth((u-0.4)/0.6)) *
		math.Sqrt(1-0.7*math.Pow(out, 14))
}

func tailplane() solid {
	ys := []float64{finPad, 20.4, 28, 38, 48, 58, 68, 76, 83, 88, 92, 95, planeTip}
	return lattice{[3]int{len(planeColumns) - 1, len(ys) - 1, 3}, func(i, j, k int) vec {
		h := planeHalf((planeColumns[i]-planeRoot)/(finAft-planeRoot), ys[j])
		mid := min(0.85, h*0.5)
		return vec{planeX(i, ys[j]), ys[j], planeZ + [4]float64{-h, -mid, mid, h}[k]}
	}, func(i, j, k int) bool {
		return !(k == 1 && j == 0 && besideRod(planeColumns[i], planeColumns[i+1], 0.85))
	}, false}.solid()
}

func elevator() solid {
	ys := []float64{9, 20, 34, 48, 62, 74, 83, 89, 93, 95.6, planeTip}
	us := []float64{0, 0.1, 0.3, 0.6, 0.85, 1}
	return lattice{[3]int{len(us) - 1, len(ys) - 1, 1}, func(i, j, k int) vec {
		out := (ys[j] - 9) / (planeTip - 9)
		chord := 18 * (1 - 0.25*out) * math.Sqrt(max(1-math.Pow(out, 9), 0.08))
		half := planeHalf(1, ys[j]) * (1 - 0.86*us[i])
		return vec{finAft + chord*us[i], ys[j], planeZ + float64(2*k-1)*half}
	}, nil, false}.solid()
}
