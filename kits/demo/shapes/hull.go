package shapes

import "slices"

// A hull half is a grid of cells bent into shape: along the hull, round the section
// and inwards. Its layers are the outside, the inside, the edge of the rails and the
// middle line.
const (
	layerOutside = iota
	layerInside
	layerRail
	layerMiddle
)

// hullHalf is one of the four, port or starboard.
func hullHalf(from, to float64, port bool) body {
	w := &blocks{bend: newHullShape(port).at}
	w.grid(0, hullStations(from, to)...)
	for n := range nodeMiddle + 1 {
		w.grid(1, float64(n))
	}
	w.grid(2, layerOutside, layerInside, layerRail, layerMiddle)
	h := halfCells{w, from, to}
	h.add(from, to, nodeKeel, nodeMiddle, layerOutside, layerInside)
	h.belly()
	h.deck(port)
	h.sides(port)
	if from == 0 {
		h.add(24, 58, nodeShelf, nodeShelfTop, layerInside, layerMiddle)
	}
	return w.body()
}

// halfCells adds and cuts between stations, as far as they lie in this half.
type halfCells struct {
	w        *blocks
	from, to float64
}

func (h halfCells) add(x0, x1 float64, n0, n1 int, k0, k1 float64) {
	if x0, x1 = max(x0, h.from), min(x1, h.to); x0 < x1 {
		h.w.add(x0, float64(n0), k0, x1, float64(n1), k1)
	}
}

func (h halfCells) cut(x0, x1 float64, n0, n1 int) {
	if x0, x1 = max(x0, h.from), min(x1, h.to); x0 < x1 {
		h.w.cut(x0, float64(n0), layerOutside, x1, float64(n1), layerInside)
	}
}

// belly opens the bottom for the floor. Rails along the sides and a beam at either
// end lie on the floor and carry sole and bulkheads.
func (h halfCells) belly() {
	h.cut(floorFrom, floorTo, nodeKeel, nodeChine)
	h.add(floorFrom-2, floorTo+2, nodeFloor, nodeRail, layerInside, layerRail)
	h.add(floorFrom-2, floorFrom, nodeKeel, nodeRail, layerInside, layerMiddle)
	h.add(floorTo, floorTo+2, nodeKeel, nodeRail, layerInside, layerMiddle)
	h.add(floorFrom, bellyFrom, nodeFloor, nodeRail, layerRail, layerMiddle)
	h.add(bellyTo, floorTo, nodeFloor, nodeRail, layerRail, layerMiddle)
}

func (h halfCells) deck(port bool) {
	h.cut(cockpitFrom, cockpitTo, nodeCockpit, nodeMiddle)
	h.cut(hatchFrom, hatchTo, nodeHatch, nodeMiddle)
	h.cut(pylonHoleX-pylonHole/2, pylonHoleX+pylonHole/2, nodePylonHole, nodeMiddle)
	if port {
		h.cut(roofHoleX-roofHole/2, roofHoleX+roofHole/2, nodeRoofHole, nodeRoofHole2)
		h.cut(tailHoleX-tailHole/2, tailHoleX+tailHole/2, nodeTailHole, nodeTailHole2)
	}
}

func (h halfCells) sides(port bool) {
	h.add(floorFrom+0.2, bulkheadCabin-0.2, nodeStringer, nodeCeiling, layerInside, layerRail)
	windows := windowsStarboard
	if port {
		windows = windowsPort
		h.cut(doorFrom, doorTo, nodeDoor, nodeDoorTop)
	}
	for _, x := range windows {
		h.cut(x-windowWidth/2, x+windowWidth/2, nodeWindow, nodeWindowTop)
	}
}

// hullStations lie closest where the hull is bent most.
func hullStations(from, to float64) []float64 {
	list := []float64{from, to, 0.25, 0.7, 1.4, 2.4, 3.6, 5, 6.6, 8.4, 10.4, 12.6, 15}
	for x := 18.0; x < beamFrom; x += 4 {
		list = append(list, x)
	}
	for x := beamFrom; x < 300; x += 13 {
		list = append(list, x)
	}
	for x := 303.0; x < 436; x += 5 {
		list = append(list, x)
	}
	list = append(list, 436, 439, 441.5, 443.8, 445.7, 447.2, 448.4, 449.3, 449.8)
	list = slices.DeleteFunc(list, func(x float64) bool { return x < from || x > to })
	return list
}

// hullShape places the nodes of the grid.
type hullShape struct {
	port     bool
	sections map[float64]hullSection
}

func newHullShape(port bool) *hullShape { return &hullShape{port, map[float64]hullSection{}} }

func (h *hullShape) at(p point) point {
	s, known := h.sections[p[0]]
	if !known {
		s = sectionAt(p[0])
		h.sections[p[0]] = s
	}
	q := s.node(int(p[1]), int(p[2]))
	if h.port {
		q[1] = -q[1]
	}
	return q
}

func (s *hullSection) node(n, layer int) point {
	if layer == layerOutside {
		return point{s.x, s.outer[n][0], s.outer[n][1]}
	}
	in := s.inner[n]
	if layer == layerInside || n > nodeShoulder {
		return point{s.innerX, in[0], in[1]}
	}
	z, y := in[1], min(railEdge, 0.9*in[0])
	if n < nodeFloor {
		// The bottom's nodes run together on the middle line, between keel and floor.
		middle := mix(s.inner[nodeKeel][1], s.inner[nodeFloor][1], 0.5)
		z, y = mix(z, middle, 0.4), 0.8*in[0]
		if layer == layerMiddle {
			z = middle
		}
	}
	if n == nodeShelf || n == nodeShelfTop {
		z = sideLevels[n-nodeFloor]
	}
	if layer == layerMiddle {
		y = 0
	}
	return point{s.innerX, y, z}
}

func hullPieces() []Piece {
	return []Piece{
		{"hull-port-fore", hullHalf(0, hullJoint, true)},
		{"hull-port-aft", hullHalf(hullJoint, hullLength, true)},
		{"hull-starboard-fore", hullHalf(0, hullJoint, false)},
		{"hull-starboard-aft", hullHalf(hullJoint, hullLength, false)},
	}
}
