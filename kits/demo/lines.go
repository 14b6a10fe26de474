package demo

import "math"

// The hull's lines. A section is a row of points from the middle of the deck round
// to the keel, the same rows at every station, so that hull, floor and all that
// touches them meet corner to corner.

const (
	wall      = 1.6   // of the hull
	beam      = 28.6  // half, of the hull's flat sides
	sidesFrom = 80.0  // from here aft the sides are flat
	bowStep   = 44.0  // the raised bow's after end
	roofAt    = 116.4 // the cabin's front, above the foredeck
	joint     = 225.0 // between fore and aft halves
	floorFore = 121.0 // the belly is open between these; the floor's ends
	floorAft  = 301.0
	stern     = 450.0

	deckBow   = 74.0 // height of the raised bow's deck
	deckFore  = 66.0 // height of the deck before the canopy
	deckCabin = 75.0
	deckTail  = 79.0 // under the fin
	chine     = 10.0 // height of the chine amidships
	railTop   = 12.0
	shoulder  = 59.0 // up to here the sides are flat
	fairing   = 4.0  // height of the keel behind the step
)

// row is a line of the hull along its length: where it runs outside and inside, on
// the starboard side, in the section of the cabin and of the cockpit.
type row struct{ cabin, cabinIn, cockpit, cockpitIn spot }

var hullRows = []row{
	deckRow(0), deckRow(3), deckRow(6), deckRow(9), deckRow(12), deckRow(15.75), deckRow(17), deckRow(18.25),
	deckRow(19), deckRow(20), deckRow(21),
	{spot{22.5, 75}, spot{22, 73.4}, spot{22.5, 66}, spot{22, 64.4}},
	{spot{24.6, 74.4}, spot{24.2, 72.8}, spot{24.6, 65.4}, spot{23.3, 63.5}},
	{spot{26.6, 72.7}, spot{25, 71.2}, spot{26.6, 63.8}, spot{23.9, 62.8}},
	{spot{28, 69.6}, spot{25, 69}, spot{28, 61.2}, spot{24.4, 62.2}},
	{spot{28.5, 65.5}, spot{25, 66}, spot{28.35, 59.9}, spot{24.9, 61.6}},
	{spot{28.6, 63.2}, spot{25, 62.6}, spot{28.5, 59.5}, spot{25.4, 60.9}},
	{spot{28.6, 61.8}, spot{27, 62.4}, spot{28.55, 59.2}, spot{26.95, 59.2}},
	sideRow(59), sideRow(51), sideRow(46.5), sideRow(42), sideRow(37.5), sideRow(31), sideRow(25), sideRow(19),
	sideRow(14), sideRow(railTop), sideRow(chine),
	lowRow(28, 25.5), lowRow(22, 22), lowRow(15, 15), lowRow(8, 8), lowRow(3, 3), lowRow(0, 0),
}

// The first row of each kind.
const (
	firstSide = 18
	firstLow  = 29
)

func deckRow(y float64) row {
	return row{spot{y, deckCabin}, spot{y, deckCabin - wall}, spot{y, deckFore}, spot{y, deckFore - wall}}
}

func sideRow(z float64) row {
	return row{spot{beam, z}, spot{beam - wall, z}, spot{beam, z}, spot{beam - wall, z}}
}

// lowRow is a row of the bottom: a V, flat inside along the keel.
func lowRow(y, yIn float64) row {
	out, in := spot{y, forebody(y)}, spot{yIn, forebody(max(yIn, 3)) + 1.7}
	return row{out, in, out, in}
}

// forebody and afterbody are the V of the bottom before and behind the step.
func forebody(y float64) float64 { return 6 * math.Abs(y) / 28 }

func afterbody(y float64) float64 { return fairing + (6-fairing)*math.Abs(y)/28 }

// rowAt is the number of the side row at a height amidships.
func rowAt(z float64) int {
	for i, r := range hullRows {
		if i >= firstSide && r.cabin[1] == z {
			return i
		}
	}
	panic("demo: no row of the hull at this height")
}

// columnAt is the number of the deck row at a width.
func columnAt(y float64) int {
	for i, r := range hullRows[:firstSide] {
		if r.cabin[0] == y {
			return i
		}
	}
	panic("demo: no row of the deck at this width")
}

// station is a place along the hull. Where the deck steps, two stations stand in one
// place, one for each deck, and the wall between them is a wall's thickness away
// inside: further aft at the cabin, further forward at the bow.
type station struct {
	x, in float64
	deck  deck
}

type deck int

const (
	foredeck deck = iota
	bowDeck
	roof
)

// outline is where a row meets a station, outside or a wall's thickness inside.
func (s station) outline(r int, inside bool) vec {
	p, x := hullRows[r].cockpit, s.x
	switch {
	case s.deck == roof && inside:
		p, x = hullRows[r].cabinIn, s.in
	case s.deck == roof:
		p = hullRows[r].cabin
	case inside:
		p, x = hullRows[r].cockpitIn, s.in
	}
	switch {
	case s.deck != roof:
		q := bow(x, p, inside)
		if s.deck == bowDeck {
			q[2] += raised(p)
		}
		return q
	case s.x >= floorAft:
		return tail(x, r, p, inside)
	}
	return vec{x, p[0], p[1]}
}

// bow narrows the cockpit's section to the stem, lifts its chine and its keel, and
// spreads the chine where it throws up spray.
func bow(x float64, p spot, inside bool) vec {
	start, lag := 0.0, 0.0
	if inside {
		start, lag = 2, 2.2
	}
	fullness := func(x float64) float64 {
		return math.Pow(max(1-math.Pow(max(sidesFrom-x, 0)/(sidesFrom-start), 2.5), 0), 0.4)
	}
	wide := fullness(x)
	if p[1] >= deckFore-wall && p[0] <= 21 { // the cockpit's opening has straight sides
		wide = min(wide/fullness(60), 1)
	}
	depth := max(shoulder-p[1], 0) / shoulder
	wide *= 1 - 0.55*math.Pow(max(1-x/70, 0), 1.4)*depth*depth
	if p[1] == chine && !inside {
		wide *= 1 + 1.4/beam*smooth((x-30)/30)*smooth((roofAt-x)/25)
	}
	// The keel rises by 40, what is above it in proportion.
	rise := math.Pow(min(max((60-x+lag)/(60+lag), 0), 1), 3)
	return vec{x, p[0] * wide, p[1] + 40*rise*depth}
}

// raised is how much higher a point of the section is in the bow than behind its
// step: nothing along the sides, all of the step on deck.
func raised(p spot) float64 {
	return (deckBow - deckFore) * min(max((p[1]-shoulder)/5, 0), 1)
}

// tail narrows the cabin's section to the stern, lifts the keel and, a little, the
// deck under the fin.
func tail(x float64, r int, p spot, inside bool) vec {
	half := tailBeam(x)
	y := p[0] * half / beam
	if inside && r > columnAt(9) { // nearer the middle are holes, which are upright
		y = p[0] * (half - wall) / (beam - wall)
	}
	lift := tailDeck(x) - deckCabin
	if r < firstSide {
		return vec{x, y, p[1] + lift}
	}
	out := hullRows[r].cabin
	z := out[1]
	if r >= firstLow {
		z = afterbody(out[0])
	}
	keel := tailKeel(x)
	z = keel + (z-fairing)*(shoulder+lift-keel)/(shoulder-fairing)
	if inside {
		z += p[1] - out[1]
		if r == firstLow-1 { // the corner over the chine must not fold under
			z += 0.25 * aft(x)
		}
	}
	return vec{x, y, z}
}

func aft(x float64) float64 { return (x - floorAft) / (stern - floorAft) }

func tailBeam(x float64) float64 { return between(beam, 6.5, math.Pow(aft(x), 1.15)) }

func tailKeel(x float64) float64 { return fairing + 46*math.Pow(aft(x), 1.35) }

func tailDeck(x float64) float64 {
	return between(deckCabin, deckTail, smooth((x-306)/40))
}

// smooth goes from 0 to 1 without a corner.
func smooth(u float64) float64 {
	u = min(max(u, 0), 1)
	return u * u * (3 - 2*u)
}
