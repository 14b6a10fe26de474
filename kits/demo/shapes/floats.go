package shapes

import "math"

// The floats stand under the outer wings on two struts each; their halves part in the
// plane of the middle.
const (
	floatY    = 250.0
	floatFrom = 182.0
	floatTo   = 266.0
	floatDeck = floatTop - 2.0 // z of the deck under the front strut
	floatTop  = floatKeel + 24
	floatKeel = 45.3
	floatStep = 226.0 // x of its step
	footRise  = 218.0 // from here aft the deck is higher
	strutFore = 212.0 // x of the middle of the front strut
	strutAft  = 230.0
	strutLean = 7.0 // the struts' tops are further out
)

// floatHalf is the outer starboard half, open to the middle; the inner is its mirror
// image.
func floatHalf() body {
	var xs []float64
	for x := floatFrom; x < floatTo; {
		xs = append(xs, x)
		switch {
		case x < floatFrom+1:
			x += 0.25
		case x < floatFrom+12:
			x++
		case x >= floatStep-1 && x < floatStep-0.1, x >= footRise-1 && x < footRise-0.1:
			x += 0.25
		case x >= floatTo-0.5:
			x = floatTo
		default:
			x = min(math.Floor(x)+2, nextOf(x, footRise-1, floatStep-1, floatStep, floatTo-0.5))
		}
	}
	xs = append(xs, floatTo)
	var outer, inner [][]point
	for _, x := range xs {
		outer, inner = append(outer, floatSection(x, false)), append(inner, floatSection(x, true))
	}
	// Stem and stern close the hollow: there the inside runs in to the middle.
	last := len(xs) - 1
	for _, end := range [][2]float64{{0, floatFrom}, {1, floatFrom + 2}, {float64(last - 1), floatTo - 2}, {float64(last), floatTo}} {
		for j := range inner[int(end[0])] {
			inner[int(end[0])][j][0], inner[int(end[0])][j][1] = end[1], floatY
		}
	}
	return slab{
		cells:  [2]int{len(xs) - 1, len(outer[0]) - 1},
		top:    func(i, j int) point { return inner[i][j] },
		bottom: func(i, j int) point { return outer[i][j] },
	}.body()
}

// nextOf is the nearest of the given places behind x.
func nextOf(x float64, at ...float64) float64 {
	best := math.Inf(1)
	for _, a := range at {
		if a > x+1e-9 {
			best = min(best, a)
		}
	}
	return best
}

// floatSection runs from the middle of the deck round chine to keel, outside or a
// wall's thickness inside.
func floatSection(x float64, inside bool) []point {
	half, deck, chine, keel := floatLines(x)
	w := 0.0
	if inside {
		w = wall
		_, before, _, _ := floatLines(x - w) // the inside keeps clear of both steps
		_, _, _, behind := floatLines(x + w)
		half, deck, keel = max(half-w, 0.3), min(deck, before)-w, max(keel, behind)+w*1.1
		chine = max(chine, keel+0.4)
		deck = max(deck, chine+1)
		x = min(max(x, floatFrom+2.2+(x-floatFrom)*0.02), floatTo-2+(x-floatTo)*0.02)
	}
	at := func(y, z float64) point { return point{x, floatY + y, z} }
	ring := []point{at(0, deck)}
	for k := range 7 { // flat deck, rounded gunwale
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / 6)
		r := min(half*0.35, 3)
		ring = append(ring, at(half-r+r*sin, deck-0.6*r*(1-cos)))
	}
	low := deck - 0.6*min(half*0.35, 3)
	for k := 1.0; k <= 4; k++ {
		t := k / 4
		ring = append(ring, at(half*(1-0.08*t), mix(low, chine, t)))
	}
	for k := 1.0; k <= 6; k++ { // hollow bottom
		t := k / 6
		ring = append(ring, at(half*0.92*(1-t), mix(chine, keel, math.Pow(t, 0.8))))
	}
	return ring
}

// floatLines gives half the beam and the heights of deck, chine and keel.
func floatLines(x float64) (half, deck, chine, keel float64) {
	t := (x - floatFrom) / (floatTo - floatFrom)
	half = 11 * math.Pow(math.Sin(math.Pi*min(max(0.5*t/0.45, 0.012), 0.5)), 0.62)
	if t > 0.55 {
		half = 11 * mix(0.3, 1, math.Sqrt(max(1-math.Pow((t-0.55)/0.45, 2), 0)))
	}
	deck = floatDeck + 2*ease(min(max(x-footRise+1, 0), 1))
	keel = floatKeel + 14*math.Pow(min(max(1-t/0.45, 0), 1), 2.2)
	if x > floatStep-0.01 {
		keel = floatKeel + 2.5 + 13*math.Pow(min((x-floatStep)/(floatTo-floatStep), 1), 1.3)
	}
	chine = keel + 6*min(half/11, 1)
	return half, deck, min(chine, deck-3), keel
}

// strut stands on the inner half of the starboard float and ends in the plane of the
// wing's underside.
func strut(x, chord, foot float64) body {
	const n, steps = 32, 12
	var rings [][]point
	for i := range steps + 1 {
		t := float64(i) / steps
		half := 2 + 0.4*math.Pow(2*t-1, 6)
		length := chord / 2 * mix(0.8, 1, math.Pow(2*t-1, 6))
		ring := make([]point, n)
		for k := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
			y := floatY - 4.4 + strutLean*t + half*sin*(1+0.15*cos)
			ring[k] = point{x - length*cos, y, mix(foot, wingBelow(y), t)}
		}
		rings = append(rings, ring)
	}
	return pierced(alongZ, rings)
}
