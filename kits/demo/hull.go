package demo

import "slices"

// hullHalf is one of the four parts of the hull: a shell from the outside in, with
// rails, frames and bands as further layers inside it. Layer by layer: outside,
// inside, the rim of rails and frames, the middle of the hull.
type hullHalf struct {
	stations []station
	port     bool
}

func hullFore(port bool) solid {
	var list []station
	for _, x := range []float64{0, 0.4, 1, 2, 3.5, 6, 9, 12.6, mooringFrom, 18, 22, 26, 30, 33.5, mooringTo, 38.4, 41.4} {
		lag := 0.0
		if x < 40 {
			lag = 2 * (1 - x/40) * (1 - x/40)
		}
		list = append(list, station{x, x + lag, bowDeck})
	}
	list = append(list, station{bowStep, bowStep - wall, bowDeck}, station{bowStep, bowStep - wall, foredeck})
	for _, x := range []float64{49, 54, 58, 60, 63.4, 68, 74, 80, 86, 92, 98, 104, 110, 115.4} {
		list = append(list, station{x, x, foredeck})
	}
	list = append(list, station{roofAt, roofAt + wall, foredeck}, station{roofAt, roofAt + wall, roof})
	cuts := []float64{120, 120.75, floorFore, 122, 123.25, hatchFrom, doorFrom, doorTo, hatchTo, 212, 215, 218, 220, 222, joint}
	for _, x := range slices.Concat(windowsPort, windowsStarboard) {
		cuts = append(cuts, x-6.5, x+6.5)
	}
	slices.Sort(cuts)
	for _, x := range slices.Compact(cuts) {
		list = append(list, station{x, x, roof})
	}
	return hullHalf{list, port}.solid()
}

func hullAft(port bool) solid {
	var list []station
	for _, x := range []float64{joint, 240, 260, 280, 298, 300, floorAft, 304, 308, 312, 317, 322, 328, 334, 340,
		346, 353, 360, 368, 376, 384, 390, 396.4, 398, 399.6, 406, 413, 420, 427, 434, 441, 448, stern} {
		list = append(list, station{x, x, roof})
	}
	return hullHalf{list, port}.solid()
}

func (h hullHalf) solid() solid {
	s := lattice{
		cells: [3]int{len(h.stations) - 1, len(hullRows) - 1, 3},
		at:    h.corner,
		full:  h.full,
	}.solid()
	if h.port {
		return s.mirrored()
	}
	return s
}

func (h hullHalf) corner(i, j, k int) vec {
	s := h.stations[i]
	p := s.outline(j, k > 0)
	p = h.rounded(i, j, k, p)
	switch {
	case k == 0:
		return p.Plus(vec{0, 0, coaming(s, j)})
	case k == 1:
		return p
	case s.x >= 448:
		return h.cap(i, j, k)
	case k == 3:
		return vec{p[0], 0, p[2]}
	}
	if y := h.rim(s, j); y > 0 {
		p[1] = y
	}
	return p
}

// rim is how far a rail, a frame or a band reaches in; 0 where there is none.
func (h hullHalf) rim(s station, j int) float64 {
	z := hullRows[j].cabin[1]
	within := func(low, high float64) bool { return j >= firstSide && low <= z && z <= high }
	switch {
	case s.x >= floorFore && s.x <= floorAft && within(chine, railTop):
		return 23
	case (s.x == 58 || s.x == 60) && within(25, 51):
		return 15
	case (s.deck == roof && s.x == roofAt || s.x == 120) && within(14, shoulder):
		return 26
	case (s.x == 220 || s.x == 222) && within(51, shoulder):
		return 26
	case (s.x == 298 || s.x == 300) && within(19, 51):
		return 18
	}
	return 0
}

// coaming is how far the edge of the mooring cockpit stands up above the deck.
func coaming(s station, j int) float64 {
	edge := columnAt(9)
	if s.x < mooringFrom || s.x > mooringTo || j > edge {
		return 0
	}
	if j == edge || s.x == mooringFrom || s.x == mooringTo {
		return 1
	}
	return 0
}

// full reports the cells that are there.
func (h hullHalf) full(i, j, k int) bool {
	a, b := h.stations[i], h.stations[i+1]
	if k == 0 {
		return !h.open(a, b, j)
	}
	if b.x == stern {
		return true
	}
	if k == 2 {
		return h.full(i, j, 1) && j == rowAt(railTop) && (b.x == 122 || a.x == 298)
	}
	return b.x > a.x && h.rim(a, j) > 0 && h.rim(b, j) > 0 && h.rim(a, j+1) > 0
}

// open reports where the shell has an opening.
func (h hullHalf) open(a, b station, j int) bool {
	within := func(x0, x1 float64, r0, r1 int) bool { return a.x >= x0 && b.x <= x1 && j >= r0 && j < r1 }
	if within(floorFore, floorAft, firstLow-1, len(hullRows)) || // belly
		within(mooringFrom, mooringTo, 0, columnAt(9)) || // mooring cockpit
		within(63.4, 115.4, 0, columnAt(21)) || // cockpit
		within(hatchFrom, hatchTo, 0, columnAt(19)) || // dorsal hatch
		within(212, 218, 0, columnAt(3)) { // leads to the cabane
		return true
	}
	windows := windowsStarboard
	if h.port {
		windows = windowsPort
	}
	for _, x := range windows {
		if within(x-6.5, x+6.5, rowAt(46.5), rowAt(37.5)) {
			return true
		}
	}
	return h.port && (within(doorFrom, doorTo, rowAt(doorHead), rowAt(doorSill)) ||
		within(120.75, 123.25, columnAt(15.75), columnAt(18.25)) || // lead of the searchlight
		within(396.4, 399.6, columnAt(3), columnAt(9))) // lead of the tail light
}

// The middles of the cabin's windows, and the door in the port side.
var (
	windowsPort      = []float64{171.5, 190, 208.5}
	windowsStarboard = []float64{130, 149, 168}
)

const (
	mooringFrom, mooringTo = 14.0, 37.0 // the mooring cockpit in the deck of the bow

	doorFrom, doorTo   = 131.0, 157.0
	doorSill, doorHead = 25.0, 59.0
)

// rounded draws the corners of the larger wire holes in, so that they are octagons.
func (h hullHalf) rounded(i, j, k int, p vec) vec {
	for _, hole := range []struct {
		from, middle, to float64
		rows             [2]float64
		centre           float64
		portOnly         bool
	}{
		{212, 215, 218, [2]float64{-3, 3}, 0, false},
		{396.4, 398, 399.6, [2]float64{3, 9}, 6, true},
	} {
		s := h.stations[i]
		if j >= firstSide || (s.x != hole.from && s.x != hole.to) || hole.portOnly && !h.port ||
			!slices.Contains(hole.rows[:], hullRows[j].cabin[0]) {
			continue
		}
		c := station{hole.middle, hole.middle, roof}.outline(columnAt(hole.centre), k > 0)
		return c.Toward(p, 0.7071)
	}
	return p
}

// cap closes the stern: its rows run in to one point on the middle line.
func (h hullHalf) cap(i, j, k int) vec {
	s := h.stations[i]
	top, bottom := s.outline(0, true), s.outline(len(hullRows)-1, true)
	return s.outline(j, true).Toward(top.Toward(bottom, 0.5), float64(k-1)/2)
}

func hullPieces() []maker {
	return []maker{
		{"hull-port-fore", func() solid { return hullFore(true) }},
		{"hull-starboard-fore", func() solid { return hullFore(false) }},
		{"hull-port-aft", func() solid { return hullAft(true) }},
		{"hull-starboard-aft", func() solid { return hullAft(false) }},
	}
}
