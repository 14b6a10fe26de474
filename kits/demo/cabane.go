package demo

// The cabane carries the wing above the cabin: an N of struts on either side, between
// a rail on the roof and one under the wing, and a mast in the middle with a duct for
// the leads.

const (
	footY, headY = 18.5, 22.0 // middles of the rails
	duct         = 215.0      // middle of the mast
)

func wingCabane() solid {
	foot := func(x float64) vec { return vec{x, footY, deckCabin + 1.2} }
	head := func(x float64) vec { return vec{x, headY, flatZ - 1.2} }
	side := blend(1,
		cushion(vec{196, footY - 3, deckCabin - 3}, vec{250, footY + 3, deckCabin + 2}, 1),
		cushion(vec{201, headY - 3, flatZ - 2}, vec{236, headY + 3, flatZ + 3}, 1),
		limb(foot(200), head(205), 2.4, 2.1), limb(foot(246), head(232), 2.4, 2.1),
		limb(foot(244), head(207), 1.9, 1.9))
	mast := blend(1, cushion(vec{duct - 6, -5.5, deckCabin - 3}, vec{duct + 6, 5.5, flatZ + 3}, 2),
		cushion(vec{duct - 3, -footY, deckCabin - 3}, vec{duct + 3, footY, deckCabin + 2}, 1),
		cushion(vec{duct - 3, -headY, flatZ - 2}, vec{duct + 3, headY, flatZ + 3}, 1))
	leads := cushion(vec{duct - 4.3, -3.3, deckCabin - 9}, vec{duct + 4.3, 3.3, flatZ + 9}, 0)
	both := func(p vec) float64 { return side(vec{p[0], max(p[1], -p[1]), p[2]}) }
	return cast(without(blend(1, both, mast), leads), vec{196, -25, deckCabin}, vec{250, 25, flatZ}, 0.8)
}
