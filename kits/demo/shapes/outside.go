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
	both("tip-lens", tipLens())
	both("lamp", tipLamp())
	add("pitot-mast", pitot().mirrored())
	both("nacelle", nacelle())
	both("exhaust", exhaust())
	both("propeller", propeller())
	copies("cowl-ring", cowlRing())
	copies("engine", engine())
	copies("shaft-bush", shaftBush())
	copies("propeller-tube", propellerTube())
	copies("spinner", spinner())

	both("fin", fin())
	both("tailplane", tailplane())
	both("elevator", elevator())
	add("rudder", rudder())
	add("tail-lens", tailLens())
	add("lamp-tail", lamp(point{tailLampTo - 5, 0, tailLampZ}, 5))
	add("tailplane-rod.1", rod(alongY, point{rodFront, 0, tailZ}, rodRadius, -rodReach, rodReach, 24))
	add("tailplane-rod.2", rod(alongY, point{rodRear, 0, tailZ}, rodRadius, -rodReach, rodReach, 24))

	both("float-outer", floatHalf())
	both("float-inner", floatHalf().reshaped(func(p point) point { return point{p[0], 2*floatY - p[1], p[2]} }))
	both("strut-front", strut(strutFore, 8, floatDeck))
	both("strut-rear", strut(strutAft, 6, floatTop))

	list = append(list, hatches()...)
	add("rescue-door", rescueDoor())
	add("canopy", canopy())

	add("searchlight-mount", searchlightMount())
	add("searchlight-housing", searchlightHousing())
	add("searchlight-lens", searchlightLens())
	add("lamp-searchlight", searchlightLamp())
	add("aerial-mast", aerialMast())
	add("bollard.1", bollard(22))
	add("bollard.2", bollard(31))
	both("handrail", handrail())
	add("anchor", anchor())
	add("winch-boom", winchBoom().mirrored())
	add("winch-hook", winchHook().mirrored())
	return append(list, gear()...)
}
