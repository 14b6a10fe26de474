package shapes

// outside lists what stands outside the hull: wing, nacelles, tail, floats, outside
// detail and beaching gear.
func outside() []Piece {
	var list []Piece
	add := func(id string, b body) { list = append(list, Piece{id, b}) }
	both := func(id string, starboard body) {
		add(id+"-port", starboard.mirrored())
		add(id+"-starboard", starboard)
	}
	copies := func(id string, starboard body) { // no. 1 is the port one
		add(id+".1", starboard.mirrored())
		add(id+".2", starboard)
	}
	add("wing-centre-lower", wingCentre(false))
	add("wing-centre-upper", wingCentre(true))
	both("wing-lower", wingOuter(false))
	both("wing-upper", wingOuter(true))
	add("spar-tube", bored(alongY, point{sparAt, 0, wingPart}, 24,
		[2]float64{-sparEnd, sparWide}, [2]float64{sparEnd, sparWide}, [2]float64{sparEnd, 1.5}, [2]float64{-sparEnd, 1.5}))
	add("wing-pylon", pylon())
	both("aileron", aileron())
	both("nacelle", nacelle())
	both("exhaust", exhaust())
	both("propeller", propeller())
	copies("cowl-ring", cowlRing())
	copies("engine", engine())
	copies("shaft-bush", shaftBush())
	copies("propeller-tube", propellerTube())
	copies("spinner", spinner())
	return list
}
