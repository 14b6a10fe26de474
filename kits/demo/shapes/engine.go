package shapes

import "math"

const (
	tubeRadius = 1.0
	bushRadius = 2.5
	bushFrom   = engineFrom - 6
	bushTo     = bushFrom + 14
	tubeFrom   = bushFrom - 6
	tubeTo     = tubeFrom + 14
	hubFrom    = bushFrom - 8.2
	hubTo      = hubFrom + 8
	propRadius = 45.0
)

// hubRings are rings about the nacelle's axis for limbs to grow out of: limb w stands
// over the middle of its share of the corners, the first upright.
type hubRings struct {
	limbs, share int // corners for each limb
	rings        [][]point
}

func (h *hubRings) add(x, r float64) {
	n := h.limbs * h.share
	ring := make([]point, n)
	for k := range ring {
		ring[k] = nacelleAxis(x).plus(spoke(2 * math.Pi * float64(k-h.share/2) / float64(n)).times(r))
	}
	h.rings = append(h.rings, ring)
}

// spoke points out from the axis; angle 0 is up.
func spoke(angle float64) point {
	sin, cos := math.Sincos(angle)
	return point{0, -sin, cos}
}

// windows leaves out the faces between two rings, but for a gap on either side of
// each limb.
func (h *hubRings) windows(from, to, gap int) []window {
	var list []window
	for c := range h.limbs {
		list = append(list, window{from, c*h.share + gap, to, (c+1)*h.share - gap})
	}
	return list
}

// limb is a ring round limb w of a hub: r from the axis, with a half width along the
// axis and one across, the whole turned by a pitch.
func (h *hubRings) limb(win window, w int, x, r, along, across, pitch float64) []point {
	angle := 2 * math.Pi * float64(w) / float64(h.limbs)
	out, side := spoke(angle), spoke(angle+math.Pi/2)
	sin, cos := math.Sincos(pitch)
	var ring []point
	for _, c := range win.circle() {
		a, b := along*c[0], across*c[1]
		p := nacelleAxis(x + a*cos + b*sin)
		ring = append(ring, p.plus(out.times(r)).plus(side.times(b*cos-a*sin)))
	}
	return ring
}

// engine is a crankcase with nine finned cylinders round it, and a bore for the bush
// in front.
func engine() body {
	const cells, pitch = 6, 0.85
	h := hubRings{limbs: 9, share: 8}
	h.add(bushTo, bushRadius+0.03)
	h.add(engineFrom, bushRadius+0.03)
	h.add(engineFrom, 3.6)
	h.add(engineFrom+1, 4.3)
	h.add(engineFrom+3, 5.2)
	h.add(engineFrom+4, 6)
	first := len(h.rings)
	for k := range cells + 1 {
		h.add(engineFrom+4.6+pitch*float64(k), 6)
	}
	h.add(engineTo-4, 6.4)
	h.add(engineTo-3.2, 9)
	h.add(engineTo-1.6, 10.5)
	h.add(engineTo-1.2, 12)
	h.add(engineTo, 12)
	windows := h.windows(first, first+cells, 1)
	return trunk(h.rings, windows, func(w int) [][]point {
		var rings [][]point
		ring := func(r, half float64) {
			rings = append(rings, h.limb(windows[w], w, engineFrom+4.6+pitch*cells/2, r, half, half, 0))
		}
		ring(6.8, 1.7)
		ring(7.2, 1.7)
		for r := 7.6; r < 12; r += 0.7 { // fins
			ring(r, 2.35)
			ring(r+0.3, 2.35)
			ring(r+0.35, 1.9)
			ring(r+0.65, 1.9)
		}
		ring(12.6, 2.6)
		ring(14.6, 2.6)
		ring(15.2, 2.1)
		ring(15.5, 1.2)
		return rings
	})
}

// propeller has four blades and turns on its tube; this one is the starboard one.
func propeller() body {
	const cells = 6
	h := hubRings{limbs: 4, share: 12}
	h.add(hubFrom, 4.2)
	first := len(h.rings)
	for k := range cells + 1 {
		h.add(hubFrom+1+float64(k), 4.5)
	}
	h.add(hubTo-0.5, 4.2)
	h.add(hubTo, 3.6)
	h.add(hubTo, tubeRadius+0.03)
	h.add(tubeFrom, tubeRadius+0.03)
	windows := h.windows(first, first+cells, 3)
	return trunk(h.rings, windows, func(w int) [][]point {
		var rings [][]point
		for _, s := range [][3]float64{ // radius, half the chord, pitch in degrees
			{6, 2, 60}, {7.5, 2, 55}, {9, 2.2, 50}, {11, 2.8, 45}, {14, 3.6, 38}, {18, 4.2, 32}, {22, 4.5, 28},
			{26, 4.6, 25}, {30, 4.5, 22}, {34, 4.3, 20}, {38, 3.9, 18}, {41, 3.3, 17}, {43, 2.6, 16}, {44.2, 1.8, 16},
			{44.8, 1, 15}, {propRadius, 0.5, 15},
		} {
			thick := max(0.35, min(1.5, 2-s[0]*0.06))
			pitch := s[2] * math.Pi / 180
			// The chord lies across the axis and is turned towards it.
			rings = append(rings, h.limb(windows[w], w, hubFrom+4, s[0], thick, s[1], pitch))
		}
		return rings
	})
}

func spinner() body {
	return turned(alongX, nacelleAxis(0), 36, [2]float64{hubFrom - 12, 0}, [2]float64{hubFrom - 11.8, 0.9},
		[2]float64{hubFrom - 11.2, 1.9}, [2]float64{hubFrom - 10, 3.1}, [2]float64{hubFrom - 8, 4.5}, [2]float64{hubFrom - 6, 5.5},
		[2]float64{hubFrom - 4, 6.3}, [2]float64{hubFrom - 2, 6.8}, [2]float64{hubFrom - 0.6, 7.02}, [2]float64{hubFrom, 7})
}

func shaftBush() body {
	return bored(alongX, nacelleAxis(0), 32, [2]float64{bushFrom, bushRadius}, [2]float64{bushTo, bushRadius},
		[2]float64{bushTo, tubeRadius + 0.03}, [2]float64{bushFrom, tubeRadius + 0.03})
}

func propellerTube() body {
	return bored(alongX, nacelleAxis(0), 32, [2]float64{tubeFrom, tubeRadius}, [2]float64{tubeTo, tubeRadius},
		[2]float64{tubeTo, 0.6}, [2]float64{tubeFrom, 0.6})
}
