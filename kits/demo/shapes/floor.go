package shapes

import "fmt"

// The floor closes the belly: a planing bottom with ribs, its edges under the rails of
// the hull, and in the battery bay a coaming on which the cradle stands.
const (
	floorPlate  = 3.0
	coamingTop  = 16.0
	coamingHalf = 18.0
	coamingFrom = 222.2
	coamingTo   = 279.2
	lugTo       = 228.5
	lugTop      = 6.2
	plateSeat   = coamingTop // of the switch plate
)

func floorPieces() []Piece {
	return append([]Piece{
		{"floor", floorBody()},
		{"step-fairing", stepFairing()},
	}, append(batteryPieces(), floorMagnets()...)...)
}

func floorBody() body {
	w := block(floorFrom, -floorEdge, 0, stepX, floorEdge, floorPlate)
	w.add(stepX-3, -floorEdge, 0, stepX, floorEdge, floorTop)
	w.add(stepX-3, -floorEdge, stepHeight, floorTo, floorEdge, floorTop)
	w.add(floorFrom, -floorEdge, 0, bellyFrom, floorEdge, floorTop)
	for _, side := range []float64{-1, 1} {
		w.add(floorFrom, side*(railEdge+0.4), 0, stepX, side*floorEdge, floorTop)
		w.add(bellyFrom, side*6.5, 0, coamingFrom, side*8, floorTop-0.5)
		w.add(bellyFrom, side*14.5, 0, coamingFrom, side*16, floorTop-0.5)
	}
	for x := 138.0; x < 220; x += 16 {
		w.add(x, -floorEdge, 0, x+1.5, floorEdge, floorTop-0.5)
	}
	w.add(coamingFrom, -coamingHalf, 0, coamingTo, coamingHalf, coamingTop)
	w.cut(batteryFrom, -batteryEdge, 0, batteryTo, batteryEdge, coamingTop)
	for _, side := range []float64{-1, 1} {
		y := side * batteryMagnetY
		w.add(batteryFrom, y-2.6, batteryHatchTop, lugTo, y+2.6, lugTop)
		w.cut(batteryMagnetX-2.05, y-2.05, batteryHatchTop, batteryMagnetX+2.05, y+2.05, batteryHatchTop+2)
		w.add(batteryTo-4, side*13.6, batteryHatchTop, batteryTo, side*batteryEdge, lugTop)
	}
	w.add(283, -12.5, floorTop, 297, 12.5, plateSeat)
	w.cut(285.5, -10.5, floorTop, 294.5, 10.5, plateSeat)
	floorGrid(w)
	return w.body()
}

func floorGrid(w *blocks) {
	w.grid(1, -floorEdge, -railEdge, -flatEdge, flatEdge, railEdge, floorEdge)
	for x := 268.0; x < floorTo; x += 6 {
		w.grid(0, x)
	}
	w.bend = bottom
}

// bottom bends what is flat into the planing bottom, its edges clear of the hull's
// sides where it tapers.
func bottom(p point) point {
	edge := min(floorEdge, sideY(p[0])-wall-0.4)
	side := 1.0
	if p[1] < 0 {
		side = -1
	}
	if y := side * p[1]; y > railEdge {
		p[1] = side * (railEdge + (y-railEdge)*(edge-railEdge)/(floorEdge-railEdge))
	}
	return keeled(p)
}

// keeled bends the flat below the step's height into the belly.
func keeled(p point) point {
	if p[2] < stepHeight {
		belly := bellyZ(p[1])
		p[2] = belly + p[2]*(stepHeight-belly)/stepHeight
	}
	return p
}

// stepFairing fills the step with a wedge.
func stepFairing() body {
	const thin, half = 0.6, 27.0
	w := block(stepX, -half, 0, floorTo, half, 1).grid(1, -flatEdge, flatEdge)
	w.bend = func(p point) point {
		low := (stepHeight - thin) * (p[0] - stepX) / (floorTo - stepX)
		p[2] = mix(low, stepHeight, p[2])
		return keeled(p)
	}
	return w.body()
}

func floorMagnets() []Piece {
	var list []Piece
	for i, side := range []float64{-1, 1} {
		centre := point{batteryMagnetX, side * batteryMagnetY, 0}
		list = append(list, Piece{fmt.Sprintf("magnet-floor.%d", i+1), disc(centre, 2, batteryHatchTop, batteryHatchTop+2)})
	}
	return list
}

// disc is a round bar along z.
func disc(centre point, r, from, to float64) body { return rod(alongZ, centre, r, from, to, 24) }
