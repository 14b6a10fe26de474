package shapes

import "math"

// What is fitted to the wing: pylon, ailerons, lights, pitot mast.

// pylon carries the wing on the deck; its duct takes the leads up.
func pylon() body {
	const height = 30.0
	var rings [][]point
	for _, z := range []float64{0, 0.4, 1, 2, 3.5, 6, 9, 12, 15, 18, 21, 24, 26.5, 28, 29, 29.6, height} {
		t := math.Pow(z/height, 0.8)
		foot := math.Pow(max(6-z, 0)/6, 2)
		half := mix(10, 7.5, t) + 2*foot
		rings = append(rings, streamline(hullTop+z, mix(190, 207, t)+3*(1-foot)*(1-t), mix(244, wingSlope, t)-3*(1-foot)*(1-t), half))
	}
	return pierced(alongZ, rings, hole{ductRing(hullTop), ductRing(hullTop + height), through})
}

func ductRing(z float64) []point {
	return []point{{ductFrom, -ductHalf, z}, {ductTo, -ductHalf, z}, {ductTo, ductHalf, z}, {ductFrom, ductHalf, z}}
}

// streamline is a drop shape from x a to b, blunt in front.
func streamline(z, a, b, half float64) []point {
	const n = 48
	ring := make([]point, n)
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
		ring[k] = point{mix(a, b, (1-cos)/2), half * sin * (1 + 0.2*cos) / 1.02, z}
	}
	return ring
}

// aileron is hinged by a flat on its nose.
func aileron() body {
	var rings [][]point
	const steps = 24
	for i := range steps + 1 {
		rings = append(rings, flapSection(mix(aileronFrom, aileronTo, float64(i)/steps)))
	}
	return pierced(alongY, rings)
}

func flapSection(y float64) []point {
	var above, below []point
	add := func(x, share float64) {
		u := wingU(x)
		d := wingDepth(u) * wingScale(y) * share
		above = append(above, point{x, y, wingPart + d})
		below = append(below, point{x, y, wingPart - d})
	}
	for _, nose := range [][2]float64{{0, 0.4}, {0.15, 0.6}, {0.5, 0.8}, {1, 0.92}, {1.8, 0.995}} {
		add(aileronAt+nose[0], nose[1])
	}
	for x := aileronAt + 3.0; x < wingTo; x += 1.5 {
		add(x, 1)
	}
	add(wingTo, 1)
	return append(above, backwards(below)...)
}

// tipLens covers the open end of the wires' channel, where the lamp lies.
func tipLens() body {
	return dome(alongY, point{(wireFrom + wireTo) / 2, wingTip, wingPart}, 2.5, 5, 6)
}

func tipLamp() body { return lamp(point{(wireFrom+wireTo)/2 - 2.5, wingTip - 2, wingPart}, 5) }

// pitot points ahead from a foot under the wing.
func pitot() body {
	const y, r, drop, reach = 272.0, 1.0, 10.0, 16.0
	foot, low := wingFlat+10.0, wingBelow(y+r)-drop+r
	line := []point{{foot, y, wingBelow(y)}, {foot, y, wingBelow(y) - 1}, {foot, y, low + 3}}
	for k := 1.0; k <= 6; k++ {
		sin, cos := math.Sincos(math.Pi / 2 * k / 6)
		line = append(line, point{foot - 3*(1-cos), y, low + 3*(1-sin)})
	}
	tip := foot + r - reach
	line = append(line, point{tip + 7, y, low}, point{tip + 6.5, y, low}, point{tip, y, low})
	width := []float64{r, 0.8, 0.8, 0.8, 0.85, 0.9, 0.95, 1, 1, 1, 0.6, 0.4}
	rings := pipeRings(line, width, 16)
	for k, p := range rings[0] {
		rings[0][k][2] = wingBelow(p[1])
	}
	return loft(rings...)
}
