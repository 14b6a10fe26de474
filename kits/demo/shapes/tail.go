package shapes

import (
	"math"
	"slices"
)

// The tail: a fin of two halves with tailplanes at its sides, and behind one hinge
// line rudder and elevators.
const (
	finFrom   = 352.0 // x of its leading edge at the deck
	finTop    = 155.0
	finSweep  = 0.32 // of the leading edge, for each mm up
	finHalf   = 5.0
	hingeAt   = 422.0
	hingeHalf = 3.0 // half the fin's thickness there
	flatFrom  = 372.0
	finFull   = 112.0 // up to here the fin is of full thickness

	tailZ       = 100.0 // of the tailplanes' middle
	rodFront    = 385.0
	rodRear     = 405.0
	rodRadius   = 0.75
	rodBore     = 0.79
	rodReach    = 20.0
	tailLampZ   = 78.5
	tailLampTo  = hingeAt - 0.4
	rudderFrom  = 82.0 // z; the tail light is below
	rudderTop   = finTop + 1
	tailTip     = 95.0
	elevatorEnd = 7.0 // y, clear of the rudder
)

// finEdge is the x of the leading edge.
func finEdge(z float64) float64 {
	x := finFrom + finSweep*(z-hullTop)
	if from := finTop - 14; z > from {
		t := min((z-from)/14, 1)
		x = mix(x, 404, 1-math.Sqrt(1-t*t))
	}
	return x
}

// finTaper thins the fin above the tailplanes.
func finTaper(z float64) float64 {
	taper := 1 - 0.5*max(z-finFull, 0)/(finTop-finFull)
	if from := finTop - 3; z > from {
		t := (z - from) / 3
		taper *= mix(0.4, 1, math.Sqrt(max(1-t*t, 0)))
	}
	return taper
}

// finSide is half the fin's thickness. Beside the tailplanes it is one plane, so that
// their roots lie on it; at the deck it is full to cover the hole for the lead.
func finSide(x, z float64) float64 {
	half := min(finHalf, rootPlane(x))
	if z < tailZ-6 {
		foot := min(finHalf, mix(finHalf, hingeHalf, (x-tailHoleX-3)/(hingeAt-tailHoleX-3)))
		half = mix(half, foot, min((tailZ-6-z)/10, 1))
	}
	if d := x - finEdge(z); d < 12 {
		half = min(half, finHalf*math.Sqrt(max(1-(1-d/12)*(1-d/12), 0)))
	}
	return half * finTaper(z)
}

// rootPlane is the y of the fin's side from flatFrom to the hinge.
func rootPlane(x float64) float64 {
	return mix(finHalf, hingeHalf, (x-flatFrom)/(hingeAt-flatFrom))
}

// fin is the starboard half. Inside it has a channel for the lead from the deck to
// the lamp, and half the lamp's place, open behind.
func fin() body {
	xs := []float64{rodFront - 1.5, rodFront + 1.5, 390, 394, tailHoleX - 2 - lean, tailHoleX - 2, tailHoleX + 2,
		rodRear - 1.5, rodRear + 1.5, 411, tailLampTo - 5.4 - lean, tailLampTo - 5.4, 419, hingeAt}
	nose := []float64{0, 0.006, 0.02, 0.045, 0.08, 0.13, 0.19, 0.26, 0.34, 0.43, 0.52, 0.62, 0.72, 0.82, 0.91}
	zs := []float64{hullTop, 75.8, 76, 76.8, 77, 77.2, 79.8, 80, 80.2, 82, 82.2, 84, 86, 88, 90, 92, tailZ - 6, 96,
		tailZ - 1.5, tailZ + 1.5, 104, 108, finFull, 117, 122, 127, 132, 137, 141, 144, 147, 149.5, 151.5, 153, 154.2, 154.8, finTop}
	slices.Sort(zs)
	at := func(i, j int) (x, z float64) {
		z = zs[j]
		from := max(xs[0], finEdge(z)+12) // the lines above the tailplanes make room for the tip
		if i < len(nose) {
			return mix(finEdge(z), from, nose[i]), z
		}
		return mix(from, hingeAt, (xs[i-len(nose)]-xs[0])/(hingeAt-xs[0])), z
	}
	return slab{
		cells: [2]int{len(nose) + len(xs) - 1, len(zs) - 1},
		top: func(i, j int) point {
			x, z := at(i, j)
			return point{x, min(finDip(x, z), finSide(x, z)), z}
		},
		bottom: func(i, j int) point {
			x, z := at(i, j)
			return point{x, finSide(x, z), z}
		},
		bore: func(i, j int) float64 {
			k := i - len(nose)
			if k >= 0 && zs[j] == tailZ-1.5 && (xs[k] == rodFront-1.5 || xs[k] == rodRear-1.5) {
				return rodBore / 1.5
			}
			return 0
		},
	}.body()
}

// finDip is how deep the inside is cut.
func finDip(x, z float64) float64 {
	switch {
	case x >= tailHoleX-2 && x <= tailHoleX+2 && z <= 82:
		return 4
	case x >= tailLampTo-5.4 && z >= tailLampZ-1.5 && z <= tailLampZ+1.5:
		return 1.5
	case x > tailHoleX && x < tailLampTo-5 && z >= 77.2 && z <= 79.8:
		return 1.5
	}
	return 0
}

// tailplane is the starboard one, with a socket for each rod in its root.
func tailplane() body {
	var rings [][]point
	for _, y := range []float64{0, 7, 12, 20, 30, 40, 50, 60, 70, 78, 84, 88, 90.5, 92.5, 94, 94.7, tailTip} {
		rings = append(rings, tailSection(y))
	}
	var sockets []hole
	for _, x := range []float64{rodFront, rodRear} {
		from := round(alongY, point{x, 0, tailZ}, rodBore, 16)
		to := round(alongY, point{x, rodReach + 0.3, tailZ}, rodBore, 16)
		for k := range from {
			from[k][1] = rootPlane(from[k][0])
		}
		sockets = append(sockets, hole{from, to, fromFirst})
	}
	return pierced(alongY, rings, sockets...)
}

// tailSection is the tailplane's section; the first lies on the fin.
func tailSection(y float64) []point {
	edge := flatFrom + 14*y/tailTip
	if from := tailTip - 10; y > from {
		t := (y - from) / 10
		edge = mix(edge, 400, 1-math.Sqrt(1-t*t))
	}
	scale := tailScale(y)
	var above, below []point
	add := func(x, half float64) {
		p := point{x, y, tailZ + half*scale}
		if y == 0 {
			p[1] = rootPlane(x)
		}
		above = append(above, p)
		p[2] = tailZ - half*scale
		below = append(below, p)
	}
	for k := range 9 {
		sin, cos := math.Sincos(math.Pi / 2 * (float64(k) + 0.15) / 8.15)
		add(edge+12*(1-cos), 3*sin)
	}
	for k := 1.0; k <= 12; k++ {
		add(mix(edge+12, hingeAt, k/12), mix(3, 2.4, k*k/144))
	}
	return append(above, backwards(below)...)
}

func tailScale(y float64) float64 {
	s := 1 - 0.35*y/tailTip
	if from := tailTip - 3; y > from {
		t := (y - from) / 3
		s *= mix(0.35, 1, math.Sqrt(max(1-t*t, 0)))
	}
	return s
}

// elevator is the starboard one.
func elevator() body {
	var rings [][]point
	for _, y := range []float64{elevatorEnd, 15, 25, 35, 45, 55, 65, 75, 82, 87, 90, 92, 93.5, 94.5, tailTip} {
		chord := 18.0
		if y > 85 {
			t := (y - 85) / 10
			chord = mix(9, 18, math.Sqrt(max(1-t*t, 0)))
		}
		rings = append(rings, rearSection(chord, func(along, half float64) point {
			return point{hingeAt + along, y, tailZ + half*2.4*tailScale(y)}
		}))
	}
	return pierced(alongY, rings)
}

// rearSection is the section of a control surface: a flat at the hinge, a round nose,
// and straight to the trailing edge. at places a point, its height as a share of half
// the thickness at the nose.
func rearSection(chord float64, at func(along, half float64) point) []point {
	var one, other []point
	add := func(along, half float64) {
		one, other = append(one, at(along, half)), append(other, at(along, -half))
	}
	for _, p := range [][2]float64{{0, 0.5}, {0.15, 0.66}, {0.45, 0.82}, {0.9, 0.93}, {1.5, 1}} {
		add(p[0], p[1])
	}
	for k := 1.0; k <= 10; k++ {
		add(mix(1.5, chord, k/10), mix(1, 0.14, k/10))
	}
	return append(one, backwards(other)...)
}

func rudder() body {
	var rings [][]point
	for _, z := range []float64{rudderFrom, 82.5, 83.5, 85, 88, 92, 100, 108, finFull, 120, 128, 134, 139, 143, 146.5, 149.5, 152, 153.8,
		155, 155.6, rudderTop} {
		chord := 26.0
		if z < 92 {
			t := (92 - z) / 10
			chord = mix(18, 26, math.Sqrt(1-t*t))
		}
		if from := rudderTop - 30; z > from {
			t := (z - from) / 30
			chord = mix(8, 26, math.Sqrt(1-t*t))
		}
		half := hingeHalf * finTaper(min(z-1, finTop))
		rings = append(rings, rearSection(chord, func(along, share float64) point {
			return point{hingeAt + along, half * share, z}
		}))
	}
	return pierced(alongZ, rings)
}

// tailLens covers the opening of the lamp's place behind the fin.
func tailLens() body {
	return dome(alongX, point{hingeAt, 0, tailLampZ}, 2.5, 3, 5)
}

// dome is a lens: an oval foot and a round top, which looks the way of the height.
func dome(axis int, foot point, ru, rv, height float64) body {
	const n, steps = 32, 10
	var rings [][]point
	for k := range steps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / steps)
		if k == steps {
			cos = 0
		}
		p := foot
		p[axis] += height * sin
		cos = math.Pow(cos, 0.8)
		rings = append(rings, oval(axis, p, flats(ru, n)*cos, flats(rv, n)*cos, n))
	}
	return loft(rings...)
}

// lamp is a light-emitting diode: x from its back to the tip of its dome.
func lamp(from point, length float64) body {
	const n, r = 24, 1.5
	line := [][2]float64{{from[0], flats(r, n)}, {from[0] + 0.6, flats(r, n)}, {from[0] + 0.6, flats(1.35, n)}}
	for k := range 9 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / 8)
		if k == 8 {
			cos = 0
		}
		line = append(line, [2]float64{from[0] + length - 1.35 + 1.35*sin, flats(1.35, n) * cos})
	}
	return turned(alongX, from, n, line...)
}
