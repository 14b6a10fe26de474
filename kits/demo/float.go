package demo

import (
	"math"
	"slices"
)

// A side float is two shells that meet in an upright plane along its length, under
// the middle of the outer wing and two struts that lean outward.

const (
	floatY    = 150.0 // its middle
	floatFore = 182.0
	floatAft  = 266.0
	floatDeck = 66.0
	bossDeck  = 68.0 // under the rear strut
	floatKeel = 44.0
)

func floatPieces() []maker {
	inner := func() solid { return floatHalf().mapped(func(p vec) vec { return vec{p[0], floatY - p[1], p[2]} }) }
	outer := func() solid { return floatHalf().moved(0, floatY, 0) }
	front := func() solid { return strut(216, 8, 4, floatDeck) }
	rear := func() solid { return strut(233, 6, 4, bossDeck) }
	return slices.Concat(sides("float-inner", inner), sides("float-outer", outer), sides("strut-front", front),
		sides("strut-rear", rear))
}

// The section from the middle of the deck to the keel, in shares of the half beam
// and of the height.
var floatRows = []spot{{0, 1}, {0.3, 1}, {0.82, 1}, {0.93, 0.97}, {0.99, 0.88}, {1, 0.75}, {0.97, 0.55}, {0.9, 0.36}, {0.66, 0.24},
	{0.33, 0.11}, {0, 0}}

var floatStations = func() []float64 {
	var list []float64
	for i := range 15 {
		list = append(list, between(floatFore, 214, 1-math.Cos(float64(i)/14*math.Pi/2)))
	}
	list = append(list, 220, 227.4, 228.4, 237.6, 238.6)
	for i := range 11 {
		list = append(list, between(245, floatAft, math.Sin(float64(i)/10*math.Pi/2)))
	}
	return list
}()

// floatHalf is the half away from the middle: y from 0 on.
func floatHalf() solid {
	at := func(i, j, k int) vec {
		x, r := floatStations[i], floatRows[j]
		t := 0.0
		if k == 1 {
			t = 1.3
		}
		// Inside, the stations draw together so that bow and stern stay thick.
		fore, after := floatFore+2*t, floatAft-2*t
		in := between(fore, after, (x-floatFore)/(floatAft-floatFore))
		if x > 214 && x < 245 {
			in = x
		}
		bow, stern := max(214-in, 0)/(214-fore), max(in-236, 0)/(after-236)
		half := (11 - t) * math.Sqrt(max(1-math.Pow(bow, 2.2), 0)) * math.Pow(max(1-math.Pow(stern, 2), 0), 0.75)
		keel := floatKeel + 13*math.Pow(bow, 3) + 12*math.Pow(stern, 1.6)
		z := between(keel+1.4*t, floatDeck-t, r[1])
		if r[1] == 1 && x > 228 && x < 238 {
			z += bossDeck - floatDeck
		}
		return vec{in, r[0] * half, z}
	}
	return lattice{[3]int{len(floatStations) - 1, len(floatRows) - 1, 1}, at, nil, false}.solid()
}

// strut leans in from the float's inner half to the wing.
func strut(x, long, thick, foot float64) solid {
	ring := func(y, z float64) []vec {
		list := oval(2, vec{x, y, z}, long, thick, 24)
		for i, p := range list {
			// A blunt nose and a sharp tail.
			u := (p[0] - x) / (long / 2)
			list[i][1] = y + (p[1]-y)*(1-0.25*u)/1.03
		}
		return list
	}
	return skin(ring(floatY-5, foot), ring(floatY-13, belly(floatY-13)))
}
