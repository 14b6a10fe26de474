package shapes

import "math"

// The nacelles hang under the wing, with the engine in front. All that turns or
// slides into another stands about one axis along x.
const (
	nacelleFrom = 162.0
	nacelleTo   = 232.0
	nacelleY    = 68.0 // of the axis, starboard
	nacelleZ    = 87.0
	nacelleHalf = 18.0 // radius, between flats
	nacelleBore = 16.0
	engineTo    = nacelleFrom + 16 // where the engine's back meets the floor of the bore
	engineFrom  = engineTo - 14
	cowlFrom    = nacelleFrom - 4
	cowlTo      = cowlFrom + 22
	nacelleSide = 48 // corners of a section
)

func nacelleAxis(x float64) point { return point{x, nacelleY, nacelleZ} }

// flats is the radius to the corners for a distance between flats.
func flats(r float64, n int) float64 { return r / math.Cos(math.Pi/float64(n)) }

func nacelle() body {
	var rings [][]point
	for x := nacelleTo; x > 190; x -= 2 {
		rings = append(rings, nacelleSection(x))
	}
	rings = append(rings, nacelleSection(190), nacelleSection(180), nacelleSection(nacelleFrom+0.6))
	ring := func(x, r float64) {
		rings = append(rings, round(alongX, nacelleAxis(x), flats(r, nacelleSide), nacelleSide))
	}
	ring(nacelleFrom, nacelleHalf-0.4)
	ring(nacelleFrom, nacelleBore)
	ring(nacelleFrom+8, nacelleBore)
	ring(engineTo, nacelleBore)
	return loft(rings...)
}

// nacelleSection is round in front and drawn out into a fairing under the wing,
// flatter on top the further aft.
func nacelleSection(x float64) []point {
	t := max((x-190)/(nacelleTo-190), 0)
	half := nacelleHalf - 13.5*math.Pow(t, 1.6)
	middle := nacelleZ + 13.5*math.Pow(t, 1.4)
	up := wingBelow(0) - middle
	down := middle - nacelleZ + nacelleHalf - 28*math.Pow(t, 1.5)
	full := 1 / math.Cos(math.Pi/nacelleSide) // to the corners of a flat at the top
	ring := oval(alongX, point{}, full, full, nacelleSide)
	for k, p := range ring {
		z := p[2] * down
		if p[2] > 0 {
			z = math.Pow(p[2], 1-0.45*t) * up
		}
		ring[k] = point{x, nacelleY + p[1]*half, middle + z}
	}
	return ring
}

// cowlRing slides over the front of the nacelle up to its lip.
func cowlRing() body {
	var line [][2]float64
	add := func(x, r float64) { line = append(line, [2]float64{x, flats(r, nacelleSide)}) }
	const inner, outer = nacelleHalf + 0.15, nacelleHalf + 1
	add(cowlTo, outer-0.4)
	add(cowlTo-3, outer)
	add(nacelleFrom+2, outer)
	for k := range 9 { // the lip
		sin, cos := math.Sincos(math.Pi * float64(k) / 8)
		add(nacelleFrom-4*sin, (outer+15)/2+(outer-15)/2*cos)
	}
	add(nacelleFrom, 15.4)
	add(nacelleFrom, inner)
	add(cowlTo, inner)
	return bored(alongX, nacelleAxis(0), nacelleSide, line...)
}

// exhaust is a pipe against the underside of the nacelle, cut off aslant behind.
func exhaust() body {
	const n, from, r = 24, cowlTo + 1, 3.0
	z := nacelleZ - nacelleHalf - r
	var rings [][]point
	ring := func(x, r, slant float64) {
		ring := round(alongX, point{x, nacelleY, z}, flats(r, n), n)
		for k := range ring {
			ring[k][0] -= slant * (ring[k][1] - nacelleY + r)
		}
		rings = append(rings, ring)
	}
	ring(from, 1.6, 0)
	ring(from+0.5, 2.5, 0)
	ring(from+1.5, r, 0)
	ring(from+12, r, 0)
	ring(from+24, r, 0)
	ring(from+30, 2.6, 0.7)
	ring(from+30, 1.9, 0.7)
	ring(from+22, 1.9, 0)
	return loft(rings...)
}
