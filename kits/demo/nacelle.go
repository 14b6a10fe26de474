package demo

import (
	"math"
	"slices"
)

// The nacelles hang under the wing, and the engines push: the open end is a full round
// behind the trailing edge, the rest is cut off by the wing's underside. All parts are
// shaped facing forward, and then turned about the middle.

const (
	nacelleY = 64.0
	axisZ    = 106.0
	middleX  = 230.0 // of the nacelle
	mouth    = 176.0 // the nacelle's open end
	bulkhead = 188.0 // at the bottom of its bore
	flatZ    = 105.0 // the wing's underside
)

func nacellePieces() []maker {
	return slices.Concat(sides("nacelle", facingAft(nacelle)), copies("cowl-ring", facingAft(cowlRing)),
		copies("engine", facingAft(engine)), copies("shaft-bush", facingAft(shaftBush)),
		copies("propeller-tube", facingAft(propellerTube)), sides("propeller", facingAft(propeller)),
		copies("spinner", facingAft(spinner)), sides("exhaust", exhaust), []maker{{"wing-cabane", wingCabane}})
}

// facingAft turns a shape by half a turn, which keeps the hand of a propeller.
func facingAft(shape func() solid) func() solid {
	return func() solid {
		return shape().mapped(func(p vec) vec { return vec{2*middleX - p[0], 2*nacelleY - p[1], p[2]} })
	}
}

func onAxis(x float64) vec { return vec{x, nacelleY, axisZ} }

func nacelle() solid {
	const n = 48
	ring := func(x, across float64) []vec { return round(0, onAxis(x), across, n) }
	rings := [][]vec{ring(bulkhead, 32), ring(mouth+0.6, 32), ring(mouth, 32.6), ring(mouth, 36), ring(189.4, 36)}
	for _, s := range [][3]float64{{189.4, 0.99, 0.99}, {190, 0.99, 0.99}, {198, 0.99, 0.99}, {206, 0.97, 0.97}, {214, 0.9, 0.9},
		{222, 0.79, 0.8}, {224, 0.76, 0.77}, {230, 0.64, 0.66}, {237, 0.47, 0.5}, {243, 0.28, 0.32}, {246, 0.12, 0.16}} {
		top := under(min(2*middleX-s[0], wingAft), nacelleY)
		body := ring(s[0], 36)
		for i, p := range body {
			body[i] = vec{s[0], nacelleY + (p[1]-nacelleY)*s[1], top - max(top-p[2], 0)*s[2]}
		}
		rings = append(rings, body)
	}
	return skin(rings...)
}

// cowlRing slips over the nacelle's front up to a shoulder; its lip is narrower than
// the engine behind it.
func cowlRing() solid {
	return bored(0, onAxis(0), 48, [2]float64{182, 36.2}, [2]float64{182, 37.6}, [2]float64{181, 38}, [2]float64{166, 38},
		[2]float64{163, 37.2}, [2]float64{161.2, 35.6}, [2]float64{160.2, 33.4}, [2]float64{160, 31.8}, [2]float64{160.4, 30.4},
		[2]float64{161.6, 30}, [2]float64{164, 30.8}, [2]float64{167, 32.4}, [2]float64{mouth, 32.4}, [2]float64{mouth, 36.2})
}

// engine is a field that is the same nine times around.
func engine() solid {
	const (
		nine   = 2 * math.Pi / 9
		middle = 181.4
	)
	cylinder := func(p vec) float64 {
		out := p[2]
		fins := 0.3 * math.Cos(2*math.Pi*out/1.3)
		barrel := edge(math.Hypot(p[0]-middle, p[1])-2.5-fins, max(5-out, out-12.6)) * 0.7
		return barrel
	}
	one := all(cylinder,
		cushion(vec{middle - 2.9, -2.3, 12.2}, vec{middle + 2.9, 2.3, 15.2}, 0.6),
		limb(vec{178, -1.2, 5}, vec{178.4, -1.2, 14}, 0.6, 0.55), limb(vec{178, 1.2, 5}, vec{178.4, 1.2, 14}, 0.6, 0.55),
		limb(vec{184, 0, 14}, vec{186.6, 0, 14.4}, 0.8, 0.8))
	around := func(p vec) float64 {
		y, z := p[1]-nacelleY, p[2]-axisZ
		angle := math.Atan2(y, z)
		angle -= nine * math.Round(angle/nine)
		r := math.Hypot(y, z)
		return one(vec{p[0], r * math.Sin(angle), r * math.Cos(angle)})
	}
	crankcase := all(
		barrel(onAxis(178.6), onAxis(190), 7.2),
		limb(onAxis(177.6), onAxis(177.8), 5.4, 5.6),
		barrel(onAxis(173), onAxis(178), 3.7),
		tyre(0, onAxis(186.6), 14.7, 0.8))
	bore := barrel(onAxis(170), onAxis(177), 2.8)
	return fitted(cast(without(all(around, crankcase), bore), vec{174, nacelleY - 16.1, axisZ - 16.1},
		vec{bulkhead, nacelleY + 16.1, axisZ + 16.1}, 0.57),
		vec{174, nacelleY - 15.5, axisZ - 15.5}, vec{bulkhead, nacelleY + 15.5, axisZ + 15.5})
}

func shaftBush() solid {
	return bored(0, onAxis(0), 20, [2]float64{163, 4.4}, [2]float64{163.4, 5}, [2]float64{176.2, 5}, [2]float64{177, 4}, [2]float64{177, 2.1},
		[2]float64{163, 2.1})
}

func propellerTube() solid {
	return bored(0, onAxis(0), 16, [2]float64{155, 2}, [2]float64{169, 2}, [2]float64{169, 1.3}, [2]float64{155, 1.3})
}

func spinner() solid {
	return turned(0, onAxis(0), 32, [2]float64{151.5, 14}, [2]float64{149.6, 13.8}, [2]float64{147.2, 12.8}, [2]float64{144.6, 10.8},
		[2]float64{142.2, 7.8}, [2]float64{140.4, 4.6}, [2]float64{139.5, 1.6})
}

// propeller has four blades, rooted in the cells of its hub. It turns to the right
// seen from behind; the one on the other side is its mirror image.
func propeller() solid {
	const (
		blades, columns = 4, 12 // columns of the hub for each blade
		bladeCells      = 6
		radial          = 14
	)
	xs := []float64{151.5, 153.4, 157.6, 159.5}
	at := func(i, j, k int) vec {
		angle := 2 * math.Pi * (float64(j) - bladeCells/2) / (blades * columns)
		if k < 2 {
			r := [2]float64{1.08, 4.5}[k]
			return onAxis(xs[i]).Plus(vec{0, r * math.Sin(angle), r * math.Cos(angle)})
		}
		blade, c := j/columns, j%columns
		u := float64(k-1) / radial
		r := between(4.5, 45, u)
		across := 2*float64(min(c, bladeCells))/bladeCells - 1
		root := smooth(u * 5)
		chord := between(3.4, 8.6*math.Pow(max(1-math.Pow(u, 5), 0.02), 0.5)*(0.62+0.38*math.Sin(math.Pi*min(u*1.5, 1))), root)
		thick := between(3.4, between(1.9, 0.7, u)*math.Sqrt(max(1-across*across, 0.03)), root)
		pitch := between(0.2, between(0.95, 0.35, u), root)
		side := 1.0
		if i < 2 {
			side = -1
		}
		a, h := across*chord/2, side*thick/2
		tangent, along := a*math.Cos(pitch)-h*math.Sin(pitch), a*math.Sin(pitch)+h*math.Cos(pitch)
		turn := 2 * math.Pi * float64(blade) / blades
		sin, cos := math.Sin(turn), math.Cos(turn)
		return onAxis(155.5 + along).Plus(vec{0, r*sin + tangent*cos, r*cos - tangent*sin})
	}
	return lattice{[3]int{3, blades * columns, radial + 1}, at, func(i, j, k int) bool {
		return k == 0 || i == 1 && j%columns < bladeCells
	}, true}.solid()
}

// exhaust hangs under the nacelle's round end, a little outside its middle, and runs
// aft below the cowl to before the propeller.
func exhaust() solid {
	at := func(x, y, z float64) vec { return vec{267 + x, nacelleY + 1 + y, z} }
	pipe := blend(0.8,
		limb(at(2.4, 0, 84.4), at(16, 0, 84.4), 2.4, 2.4),
		limb(at(16, 0, 84.4), at(32, 0, 84.4), 2.4, 2.3),
		cushion(at(2, -2.6, 83), at(10, 2.6, 90), 0.4))
	return cast(without(pipe, limb(at(22, 0, 84.4), at(34, 0, 84.4), 1.6, 1.6)), at(0, -3, 82), at(30, 3, 88), 0.5)
}
