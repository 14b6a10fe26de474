package demo

import "fmt"

// The dorsal hatch lies flush in the cabin's roof, on the corners of the ring.
const hatchFrom, hatchTo = 127.6, 189.6

func hatchPieces() []maker {
	list := []maker{{"hatch-ring", hatchRing}, {"dorsal-hatch", dorsalHatch}}
	for n, c := range hatchMagnets {
		list = append(list,
			maker{fmt.Sprintf("magnet-hatch-ring.%d", n+1), func() solid { return disc(c[0], c[1], 69.8, 5) }},
			maker{fmt.Sprintf("magnet-hatch.%d", n+1), func() solid { return disc(c[0], c[1], 72.2, 5) }})
	}
	return list
}

// hatchMagnets are the positions of the magnets of hatch and ring.
var hatchMagnets = []spot{{131.4, -15.2}, {131.4, 15.2}, {185.8, -15.2}, {185.8, 15.2}}

func magnetDents(floor float64, upper bool) []dent {
	var list []dent
	for _, c := range hatchMagnets {
		list = append(list, dent{circle(c[0], c[1], 5.3, 20), floor, upper})
	}
	return list
}

// hatchRing leaves the hatch's opening free but for its corners.
func hatchRing() solid {
	const leg = 12.8
	opening := []spot{{hatchFrom + leg, -19}, {hatchTo - leg, -19}, {hatchTo, -19 + leg}, {hatchTo, 19 - leg},
		{hatchTo - leg, 19}, {hatchFrom + leg, 19}, {hatchFrom, 19 - leg}, {hatchFrom, -19 + leg}}
	return plate{2, 68, 72, softRect(122.6, -24, 194.6, 24, 1), [][]spot{opening}, magnetDents(69.8, true)}.solid()
}

// dorsalHatch has a grip let into its upper side.
func dorsalHatch() solid {
	dents := append(magnetDents(74.2, false), dent{softRect(154, -4, 163.2, 4, 1.5), 74.1, true},
		dent{softRect(134, -12, 150, 12, 1), 74.6, true}, dent{softRect(167.2, -12, 183.2, 12, 1), 74.6, true})
	return plate{2, 72, deckCabin, rect(hatchFrom+0.2, -18.8, hatchTo-0.2, 18.8), nil, dents}.solid()
}
