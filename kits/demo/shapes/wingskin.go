package shapes

import (
	"math"
	"slices"
)

// wingSkin is one half of a wing section, hollowed from the parting plane: pockets
// between ribs, a bed for the spar, and before that a channel for the wires which
// runs out to the tip.
type wingSkin struct {
	above   bool
	outer   bool    // the outer wing, else the centre
	from    float64 // y, on the starboard side
	to      float64
	us, ys  []float64
	ribs    []float64 // y of their middles
	tongue  float64   // y of the rib that reaches across the parting plane
	ductway bool      // open to the pylon's duct
}

const (
	lean      = 0.2 // the walls of pockets lean by this much
	ribHalf   = 0.8
	wireFrom  = wingFlat + 6 // the wires' channel
	wireTo    = wingFlat + 11.6
	wireDip   = 1.5          // depth of the channel at the tip, for the lamp
	spineFrom = sparAt - 3.2 // the ridge that the spar is bedded in
	spineTo   = sparAt + 3.2
	ductFrom  = pylonHoleX - 4 // the pylon's duct
	ductTo    = pylonHoleX + 4
	ductHalf  = 3.0
	pocketTo  = aileronAt - wall
)

func wingCentre(above bool) body {
	w := wingSkin{above: above, from: -wingRoot, to: wingRoot, ribs: []float64{-60, -20, 20, 60}, tongue: 44, ductway: !above}
	if above {
		w.tongue = 32
	}
	return w.body()
}

func wingOuter(above bool) body {
	return (&wingSkin{above: above, outer: true, from: wingRoot, to: wingTip, ribs: []float64{128, 163, 205, 245, 284}}).body()
}

func (w *wingSkin) body() body {
	w.us, w.ys = w.sectionLines(), w.spanLines()
	return slab{
		cells:  [2]int{len(w.us) - 1, len(w.ys) - 1},
		top:    func(i, j int) point { return w.inside(i, j) },
		bottom: func(i, j int) point { return wingSurface(w.us[i], w.ys[j], w.above) },
		open:   w.open,
	}.body()
}

// sectionLines are the lines along the span.
func (w *wingSkin) sectionLines() []float64 {
	us := []float64{0, 0.004, 0.016, 0.036, 0.065, 0.1, 0.145, 0.2, 0.27, 0.35, 0.44, 0.52, 0.6, 0.69, 0.78, 0.88, 1}
	for _, x := range []float64{ductFrom, wireFrom, wireFrom + lean, wireFrom + 2.5, wireTo - lean, wireTo, ductTo,
		spineFrom - lean, spineFrom, spineTo, spineTo + lean, 232, 234, 236, wingSlope, 240, 242, 244, 246, 248,
		pocketTo - lean, pocketTo, aileronAt, 254, 256, 258, 260, 262, 264, 266, 268, wingTo} {
		us = append(us, wingU(x))
	}
	const bed = 12
	for k := range bed + 1 {
		angle := math.Pi * (0.08 + 0.84*float64(k)/bed)
		us = append(us, wingU(sparAt+sparBed*math.Cos(angle)))
	}
	us = append(us, wingU(sparAt-sparBed-lean), wingU(sparAt+sparBed+lean))
	slices.Sort(us)
	return us
}

// spanLines are the lines across it.
func (w *wingSkin) spanLines() []float64 {
	ys := []float64{w.from, w.from + wall, w.from + wall + lean, w.to}
	if w.outer {
		ys = append(ys, aileronFrom-0.2, aileronTo+0.2, 288, 290.5, 292.5, 294, 295.5, 296.5, 297.5, 298.3, 299, 299.6,
			sparEnd+0.2, sparEnd+0.2+lean)
	} else {
		ys = append(ys, w.to-wall-lean, w.to-wall, -ductHalf, ductHalf)
	}
	for _, r := range append(w.ribs, w.tongue, -w.tongue) {
		if r != 0 {
			ys = append(ys, r-ribHalf-lean, r-ribHalf, r+ribHalf, r+ribHalf+lean)
		}
	}
	slices.Sort(ys)
	ys = slices.Compact(ys)
	var all []float64
	for i, y := range ys {
		if i > 0 {
			steps := math.Ceil((y - ys[i-1]) / 6)
			for k := 1.0; k < steps; k++ {
				all = append(all, mix(ys[i-1], y, k/steps))
			}
		}
		all = append(all, y)
	}
	return all
}

func (w *wingSkin) open(i, j int) bool {
	x, y := (wingX(w.us[i], wingRoot)+wingX(w.us[i+1], wingRoot))/2, (w.ys[j]+w.ys[j+1])/2
	if w.outer {
		return x > aileronAt && y > aileronFrom-0.2 && y < aileronTo+0.2
	}
	return w.ductway && x > ductFrom && x < ductTo && math.Abs(y) < ductHalf
}

// inside is the surface within: dip below the parting plane.
func (w *wingSkin) inside(i, j int) point {
	u, y := w.us[i], w.ys[j]
	dip := min(w.dip(u, y), wingDepth(u)*wingScale(y))
	if !w.above {
		dip = -dip
	}
	return point{wingX(u, y), y, wingPart + dip}
}

func (w *wingSkin) dip(u, y float64) float64 {
	x := wingX(u, min(math.Abs(y), tipFrom))
	floor := max(wingDepth(u)*wingScale(y)-wall, 0)
	across := math.Abs(x - sparAt)
	switch {
	case x > wireFrom+lean/2 && x < wireTo-lean/2:
		return max(floor, wireDip)
	case across < sparBed && (!w.outer || y < sparEnd+0.3):
		return math.Sqrt(sparBed*sparBed - across*across)
	case x > spineFrom-lean/2 && x < spineTo+lean/2:
		return 0
	case w.onTongue(x, y):
		return -1
	case u > 0.5 && x < pocketTo-lean/2 && w.inPocket(y):
		return floor
	}
	return 0
}

func (w *wingSkin) onTongue(x, y float64) bool {
	return w.tongue > 0 && x > spineTo+lean/2 && x < wingSlope+4.1 && math.Abs(math.Abs(y)-w.tongue) < ribHalf+lean/2
}

func (w *wingSkin) inPocket(y float64) bool {
	to := w.to
	if w.outer {
		to = tipFrom
	}
	if y < w.from+wall+lean/2 || y > to-wall-lean/2 {
		return false
	}
	for _, r := range w.ribs {
		if math.Abs(y-r) < ribHalf+lean/2 {
			return false
		}
	}
	return true
}
