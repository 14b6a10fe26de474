package shapes

import "math"

// The outline of half a hull's section, from the keel round to the deck's middle, has
// one node for every height and width at which something begins or ends.
const (
	nodeKeel = iota
	nodeFlat
	nodeChine
	nodeFloor      // z 8
	nodeRail       // 10
	nodeDoor       // 14
	nodeShelf      // 38
	nodeShelfTop   // 40
	nodeDoorTop    // 48
	nodeWindow     // 49
	nodeWindowTop  // 58
	nodeStringer   // 64.5
	nodeCeiling    // 66
	nodeShoulder   // 67
	nodeDeck       = nodeShoulder + roundSteps
	nodeCockpit    = nodeDeck + 1 // y 21
	nodeHatch      = nodeDeck + 2 // 19
	nodeRoofHole   = nodeDeck + 3 // 7.25
	nodeRoofHole2  = nodeDeck + 4 // 4.75
	nodeTailHole   = nodeDeck + 5 // 4
	nodePylonHole  = nodeDeck + 6 // 3
	nodeTailHole2  = nodeDeck + 7 // 1
	nodeMiddle     = nodeDeck + 8 // 0
	roundSteps     = 10
	stringerBottom = 64.5
	stringerTop    = 66.0
)

var sideLevels = []float64{floorTop, railTop, doorBottom, 38, 40, doorTop, windowBottom, windowTop, stringerBottom, stringerTop, shoulder}

// deckWidths are the nodes of the deck, and how far out of its half width they may
// lie where it is narrow.
var deckWidths = [][2]float64{{cockpitEdge, 0.98}, {hatchEdge, 0.95}, {7.25, 0.85}, {4.75, 0.75}, {4, 0.65}, {3, 0.5}, {1, 0.2}, {0, 0}}

// hullSection is half a section, starboard, at a station: what bounds it outside and
// inside. Inside lies further aft at the stem and further forward at the sternpost.
type hullSection struct {
	x, innerX    float64
	outer, inner [nodeMiddle + 1][2]float64 // y, z
}

func sectionAt(x float64) hullSection {
	s := hullSection{x: x, innerX: x}
	if x < 14 {
		s.innerX = x + 1.8*math.Pow(1-x/14, 2)
	}
	if x > 440 {
		s.innerX = x - 1.8*math.Pow((x-440)/10, 2)
	}
	b, d, top := sideY(x), deckY(x), deckZ(x)
	keel, chine, flat := keelZ(x), chineZ(x), flatY(x)
	thick := min(wall*math.Hypot(1, slope(sideY, x)), 2.6)
	innerB := max(b-thick, 0)
	rise := wall * min(math.Hypot(1, slope(keelZ, x)), 1.6)
	tilt := (chine - keel) / max(b-flat, 1e-3)
	innerChine := chine + wall*min(math.Hypot(1, tilt), 2) - tilt*(b-innerB)
	if x >= beamFrom && x <= floorTo {
		innerChine = sectionChine() // the bottom is the floor's
	}
	innerFlat := max(min(flat, innerB-0.05*b), 0)

	s.outer[nodeKeel], s.inner[nodeKeel] = [2]float64{0, keel}, [2]float64{0, keel + rise}
	s.outer[nodeFlat], s.inner[nodeFlat] = [2]float64{flat, keel}, [2]float64{innerFlat, keel + rise}
	s.outer[nodeChine], s.inner[nodeChine] = [2]float64{b, chine}, [2]float64{innerB, max(innerChine, chine-2)}
	s.sides(b, innerB, shoulderZ(x))
	s.shoulders(b, innerB, d, top)
	return s
}

// sides sets the nodes of the side: at their heights where it is straight, moved
// together where the chine rises.
func (s *hullSection) sides(b, innerB, shoulderZ float64) {
	whole := sectionChine()
	for k, z := range sideLevels {
		n := nodeFloor + k
		s.outer[n] = [2]float64{b, squeezed(z, bellyZ(hullSide), s.outer[nodeChine][1], shoulderZ)}
		s.inner[n] = [2]float64{innerB, squeezed(z, whole, s.inner[nodeChine][1], shoulderZ)}
	}
}

// sectionChine is the height of the inner chine amidships.
func sectionChine() float64 {
	tilt := 5 / (floorEdge - flatEdge)
	return bellyZ(hullSide) + wall*math.Hypot(1, tilt) - tilt*wall
}

// squeezed moves a height between a chine and the shoulder with them.
func squeezed(z, chine, newChine, newShoulder float64) float64 {
	if math.Abs(chine-newChine) < 1e-9 && newShoulder == shoulder {
		return z
	}
	return newChine + (newShoulder-newChine)*(z-chine)/(shoulder-chine)
}

func (s *hullSection) shoulders(b, innerB, deck, top float64) {
	innerDeck := min(deck, innerB*0.9)
	for k := range roundSteps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / roundSteps)
		if k == roundSteps {
			sin, cos = 1, 0
		}
		rise := hullTop - shoulder
		s.outer[nodeShoulder+k] = [2]float64{deck + (b-deck)*cos, top - rise + rise*sin}
		s.inner[nodeShoulder+k] = [2]float64{innerDeck + (innerB-innerDeck)*cos, top - rise + (rise-wall)*sin}
	}
	for k, w := range deckWidths {
		n := nodeCockpit + k
		s.outer[n] = [2]float64{min(w[0], w[1]*deck), top}
		s.inner[n] = [2]float64{min(w[0], w[1]*innerDeck), top - wall}
	}
}

func slope(of func(float64) float64, x float64) float64 {
	from, to := max(x-0.5, 0), min(x+0.5, hullLength)
	return (of(to) - of(from)) / (to - from)
}
