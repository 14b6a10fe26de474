package demo

// What stiffens the hull inside.

const keelInside = 6*3.0/28 + 1.7 // the keel is flat inside, for the keys

func insidePieces() []maker {
	return append(sides("splice", splice), []maker{
		{"bulkhead-bow", bulkheadBow},
		{"bulkhead-cockpit", bulkheadCockpit},
		{"bulkhead-cabin", bulkheadCabin},
		{"bulkhead-aft", bulkheadAft},
		{"hull-key.1", func() solid { return key(64, keelInside) }},
		{"hull-key.2", func() solid { return key(82, keelInside) }},
		{"hull-key.3", func() solid { return key(100, keelInside) }},
		{"hull-key.4", func() solid { return key(200, deckCabin-wall-3) }},
		{"ballast-tray", ballastTray},
		{"ballast-lid", ballastLid},
		{"shot", shot},
	}...)
}

func bulkheadBow() solid {
	return prism(0, 60, 62, bothSides(spot{21, 58}, spot{24, 55}, spot{24, 15}, spot{21, 12}),
		circle(0, 46, 12, 24), circle(-13, 44, 7, 16), circle(13, 44, 7, 16))
}

// bulkheadCockpit has the doorway between cockpit and cabin. Its edges stand against
// bands of the hull.
func bulkheadCockpit() solid {
	return prism(0, roofAt+wall, 120,
		bothSides(spot{24.9, 64}, spot{24.9, 62}, spot{26, 62}, spot{26, 12}, spot{22, 8}),
		softRect(-8, 14, 8, 54, 2), circle(-20, 52, 4, 16), circle(18, 57, 5, 16))
}

// bulkheadCabin stands on the rails and makes room for the splice plates.
func bulkheadCabin() solid {
	return prism(0, 220, 222,
		bothSides(spot{24.9, 64}, spot{24.9, 62}, spot{26, 62}, spot{26, 50.6}, spot{24.9, 50.6},
			spot{24.9, railTop}, spot{22.5, railTop}, spot{22.5, 10}, spot{10, 8}),
		circle(14, 57, 4, 16), circle(-14, 30, 9, 20), circle(0, 30, 9, 20), circle(14, 30, 9, 20))
}

func bulkheadAft() solid {
	return prism(0, 296, 298, bothSides(spot{14, 64}, spot{20, 56}, spot{20, 18}, spot{16, 14}),
		circle(0, 44, 18, 28), circle(0, 24, 8, 20), circle(-12, 56, 4, 16))
}

func splice() solid {
	return prism(1, 25, 27, softRect(20, 219.5, 50, 259.5, 2.5),
		circle(25, 222.3, 2, 12), circle(42, 222.5, 2, 12), circle(27, 233, 4, 16), circle(43.5, 234, 4, 16),
		circle(26.5, 252, 4, 16), circle(44, 250, 4, 16))
}

// key is glued inside the port half's seam and leads the other half into place.
func key(x, z float64) solid {
	return prism(2, z, z+3, []spot{{x + 1, -1.5}, {x + 9, -1.5}, {x + 10, -0.5}, {x + 10, 0.5}, {x + 9, 1.5},
		{x + 1, 1.5}, {x, 0.5}, {x, -0.5}})
}

// The ballast tray is a box cut to the bow at its fore corners.
var (
	trayOutside = []spot{{12, -11}, {22, -17}, {58, -17}, {58, 17}, {22, 17}, {12, 11}}
	trayInside  = []spot{{14, -9.9}, {22.6, -15}, {56, -15}, {56, 15}, {22.6, 15}, {14, 9.9}}
)

func ballastTray() solid { return tub(2, trayOutside, trayInside, 34, 36, 60) }

// ballastLid is the floor of the mooring cockpit: it has a grating there.
func ballastLid() solid {
	var slots []dent
	for x := 17.0; x < 36; x += 3 {
		slots = append(slots, dent{rect(x, -5, x+1.6, 5), 62, true})
	}
	return plate{2, 60, 63, trayOutside, nil, slots}.solid()
}

// shot fills the tray to the height at which it holds 28.3 cm3.
func shot() solid {
	s := prism(2, 36, 37, trayInside)
	return prism(2, 36, 36+28300/s.volume(), trayInside)
}
