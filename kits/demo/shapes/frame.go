package shapes

import "math"

// The frame of the model: x aft from the bow, y to starboard, z up from the keel at
// the step, in mm. Everything that touches something else takes its place from here.
const (
	hullLength = 450.0
	hullJoint  = 225.0 // where the fore halves meet the aft halves
	hullTop    = 75.0  // the deck, flat from x 16 to the tail
	hullSide   = 30.0  // half the beam, straight from x 118 to 262
	wall       = 1.6

	// From beamFrom to beamTo the hull is a prism: flat sides from the chine up to
	// shoulder, flat deck out to deckEdge, a quarter round between.
	beamFrom, beamTo = 118.0, 262.0
	shoulder         = 67.0
	deckEdge         = 22.0
	deckFrom         = 60.0 // the deck is deckEdge wide on each side from here to beamTo

	// Openings in the deck. The canopy stands 1 mm over its opening all round.
	cockpitFrom, cockpitTo, cockpitEdge = 62.0, 114.0, 21.0
	hatchFrom, hatchTo, hatchEdge       = 126.0, 188.0, 19.0
	// The hatch lies in its opening with 0.4 to spare all round, flush with the deck,
	// and rests on four lugs of the ring, its magnets on those of the lugs.
	hatchSeat               = 72.0
	hatchMagnetX            = 4.6  // of the magnets' centres from the opening's ends
	hatchMagnetY            = 14.8 // from the middle
	roofHoleX, roofHoleY    = 121.55, -6.0
	roofHole                = 2.5
	pylonHoleX, pylonHole   = 215.0, 6.0 // on the middle line
	tailHoleX, tailHoleY    = 400.0, -2.5
	tailHole                = 3.0
	doorFrom, doorTo        = 126.0, 152.0 // in the port side
	doorBottom, doorTop     = 14.0, 48.0
	windowBottom, windowTop = 49.0, 58.0

	// What stands over the dorsal hatch would bar its way up: the wing begins aft of
	// it. The middle of its chord is over the pylon's.
	wingFrom, wingTo = 190.0, 270.0

	// The belly: a flat keel out to flatEdge, then up to the chine. The floor closes
	// it from underneath up to floorTop, where the hull's rails lie on it.
	floorFrom, floorTo = 120.0, 300.0
	floorEdge          = 28.0
	floorTop           = 8.0
	flatEdge           = 16.5
	stepX, stepHeight  = 286.0, 6.0
	railTop            = 10.0
	bellyFrom, bellyTo = 122.0, 298.0 // clear between the rails
	bulkheadCabin      = 220.0        // its fore side; that of the cockpit's is beamFrom
	windowWidth        = 13.0
	railEdge           = 23.0

	// The battery hatch lies flush in the floor, z 0 to 3, with 0.4 to spare round
	// it; its magnets meet those of the floor at its upper face.
	batteryFrom, batteryTo, batteryEdge = 223.2, 277.2, 15.5
	batteryHatchTop                     = 3.0
	batteryMagnetX, batteryMagnetY      = 226.0, 9.0 // of the magnets' centres, both at the fore end
)

var windowsPort = []float64{169.5, 187, 204.5}
var windowsStarboard = []float64{140, 170, 200}

// sideY is half the beam at a station.
func sideY(x float64) float64 {
	switch {
	case x < beamFrom:
		t := (beamFrom - x) / beamFrom
		return hullSide * math.Pow(1-math.Pow(t, 3.5), 0.4)
	case x > beamTo:
		return (hullSide - 20.5*ease((x-beamTo)/(hullLength-beamTo))) * sternpost(x)
	}
	return hullSide
}

// deckY is half the width of the flat of the deck.
func deckY(x float64) float64 {
	switch {
	case x < deckFrom:
		return min(deckEdge, sideY(x)*sideY(x)/(sideY(x)+6))
	case x > beamTo:
		return (deckEdge - 15*ease((x-beamTo)/(hullLength-beamTo))) * sternpost(x)
	}
	return deckEdge
}

// deckZ is the height of the deck.
func deckZ(x float64) float64 {
	if x < 16 {
		t := (16 - x) / 16
		return hullTop - 15*(1-math.Sqrt(1-t*t))
	}
	return hullTop
}

// shoulderZ is where the side ends and the round to the deck begins.
func shoulderZ(x float64) float64 { return deckZ(x) - (hullTop - shoulder) }

// keelZ is the height of the keel: it rises to the bow and, behind the step, to the
// tail.
func keelZ(x float64) float64 {
	switch {
	case x < beamFrom:
		return 40 * math.Pow((beamFrom-x)/beamFrom, 2.2)
	case x > floorTo:
		return stepHeight + 46*math.Pow((x-floorTo)/(hullLength-floorTo), 1.35)
	case x > stepX:
		return stepHeight
	}
	return 0
}

// flatY is half the width of the flat of the keel.
func flatY(x float64) float64 {
	switch {
	case x < beamFrom:
		return flatEdge * (1 - math.Pow((beamFrom-x)/beamFrom, 1.5))
	case x > floorTo:
		return flatEdge * (1 - 0.9*ease((x-floorTo)/(hullLength-floorTo))) * sternpost(x)
	}
	return flatEdge
}

// bellyZ is the height of the planing bottom under the floor.
func bellyZ(y float64) float64 { return max(0, math.Abs(y)-flatEdge) * 5 / (floorEdge - flatEdge) }

// chineZ is the height of the chine, where bottom and side meet.
func chineZ(x float64) float64 {
	straight := bellyZ(hullSide)
	switch {
	case x < beamFrom:
		t := (beamFrom - x) / beamFrom
		return straight + (44-straight)*t*t
	case x > floorTo:
		return straight + 50*math.Pow((x-floorTo)/(hullLength-floorTo), 1.25)
	}
	return straight
}

// sternpost rounds the plan off to the sternpost.
func sternpost(x float64) float64 {
	t := max(x-436, 0) / (hullLength - 436)
	return math.Sqrt(max(1-t*t, 0))
}

// ease goes from 0 to 1 without a kink at either end.
func ease(t float64) float64 { return t * t * (3 - 2*t) }
