package shapes

import (
	"fmt"
	"slices"
)

// Bulkheads stand on the rails and beams of the hull, or hang under its deck.
func bulkheads() []Piece {
	bow := [][2]float64{{-24, 30}, {-21, 27.4}, {21, 27.4}, {24, 30}, {24, 71}, {21.8, 73.4}, {-21.8, 73.4}, {-24, 71}}
	cabin := rectangle(-26, railTop, 26, 66, 3)
	cabin = append([][2]float64{{-26, railTop}, {26, railTop}}, cabin[3:7]...)
	aft := append([][2]float64{{-20, railTop}, {20, railTop}}, rectangle(-20, railTop, 20, 60, 5)[3:7]...)
	return []Piece{
		{"bulkhead-bow", prism(alongX, 60, 62, bow, circle(-12, 44, 5), circle(12, 44, 5), circle(0, 60, 7))},
		{"bulkhead-cockpit", prism(alongX, beamFrom, beamFrom+2, cabin, doorway(), circle(20, 60, 2))},
		{"bulkhead-cabin", prism(alongX, bulkheadCabin, bulkheadCabin+2, cabin, circle(20, 60, 2), circle(-16, 30, 6), circle(16, 30, 6))},
		{"bulkhead-aft", prism(alongX, bellyTo, floorTo, aft, circle(14, 52, 2), circle(0, 42, 8))},
	}
}

// doorway is 16 wide and 40 high, its top a half round.
func doorway() [][2]float64 {
	const sill = 13.0
	outline := [][2]float64{{-8, sill}, {8, sill}}
	arch := circle(0, sill+32, 8)
	return append(outline, arch[:len(arch)/2+1]...)
}

func splicePlate() body {
	const from, inside = 219.2, hullSide - wall
	outline := rectangle(14, from, 44, from+40, 2)
	return prism(alongY, inside-2, inside, outline, circle(20, 222.1, 1), circle(38, 222.1, 1),
		circle(20, 240, 1), circle(38, 240, 1), circle(20, 254, 1), circle(38, 254, 1))
}

// hullKeys bridge the seam under the deck. Their ends are cut off to lead them in.
func hullKeys() []Piece {
	var list []Piece
	for i, x := range []float64{18, 31, 47, 196} {
		top := hullTop - wall
		outline := [][2]float64{{top - 3, x + 1.5}, {top - 3, x + 8.5}, {top - 1.5, x + 10}, {top, x + 10}, {top, x}, {top - 1.5, x}}
		list = append(list, Piece{fmt.Sprintf("hull-key.%d", i+1), prism(alongY, -1.5, 1.5, outline)})
	}
	return list
}

// sprayRail turns the spray down; starboard. It lies on the hull's side, whose plan
// it follows from station to station.
func sprayRail() body {
	const from, to, top = 74.0, 224.0, 13.2
	var rings [][]point
	for _, x := range stationsBetween(from, to) {
		reach := min(1, 0.35+(x-from)/18, 0.35+(to-x)/10)
		out := func(y, z float64) point { return point{x, sideY(x) + y*reach, top + (z-top)*reach} }
		rings = append(rings, []point{
			{x, sideY(x), top}, out(1.6, 13), out(2.8, 12), out(3.5, 10.3), out(3.9, 8.2), out(2.9, 9.6), out(1.6, 10.6), {x, sideY(x), top + (11-top)*reach},
		})
	}
	return loft(rings...)
}

func stationsBetween(from, to float64) []float64 {
	list := hullStations(from, to)
	slices.Sort(list)
	return slices.Compact(list)
}

func bothSides(id string, starboard body) []Piece {
	return []Piece{{id + "-port", starboard.mirrored()}, {id + "-starboard", starboard}}
}
