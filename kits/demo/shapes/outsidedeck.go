package shapes

import "math"

// What stands on the deck: searchlight, masts, mooring gear, rails, winch boom.

const (
	lightZ    = 100.0 // of the searchlight's axis, above the canopy
	lightFrom = 116.0 // x of the front of its housing
	lightHalf = 4.5
	mastTop   = lightZ - lightHalf
	railY     = 14.0
	boomX     = 134.0
	boomRoot  = hatchEdge + 0.6 // y, clear of the dorsal hatch
)

// searchlightMount stands over the hole for the lead, which runs up inside.
func searchlightMount() body {
	const n, foot = 32, 5.0
	base := point{roofHoleX - 0.75, roofHoleY, 0}
	var rings [][]point
	for _, s := range [][3]float64{ // height, half width, roundness
		{0, foot, 0}, {1.2, foot, 0}, {1.6, foot - 0.4, 0}, {2.2, 3.4, 0.6}, {3.2, 2.7, 1}, {5, 2.4, 1}, {10, 2.2, 1},
		{15, 2.1, 1}, {mastTop - hullTop - 2, 2.1, 1}, {mastTop - hullTop - 1, 2.6, 1}, {mastTop - hullTop, 2.6, 1},
	} {
		ring := make([]point, n)
		for k := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
			square := 1 / max(math.Abs(sin), math.Abs(cos))
			r := s[1] * mix(min(square, 1.25), 1, s[2])
			ring[k] = point{mix(base[0], roofHoleX, s[2]) + r*cos, base[1] + r*sin, hullTop + s[0]}
		}
		rings = append(rings, ring)
	}
	axis := point{roofHoleX, roofHoleY, 0}
	lead := func(z float64) []point {
		axis[2] = z
		return round(alongZ, axis, roofHole/2, 20)
	}
	return pierced(alongZ, rings, hole{lead(hullTop), lead(mastTop), through})
}

// searchlightHousing is a bowl that looks ahead, with a hole below for the lead.
func searchlightHousing() body {
	const n = 32
	axis := point{0, roofHoleY, lightZ}
	outer := [][2]float64{{lightFrom + 10, 1.8}, {lightFrom + 9.6, 3}, {lightFrom + 8.6, 4.1}, {lightFrom + 7.5, lightHalf},
		{lightFrom + 6.8, lightHalf}, {lightFrom + 5.0, lightHalf}, {lightFrom + 3, lightHalf}, {lightFrom, lightHalf}}
	inner := [][2]float64{{lightFrom, 3.6}, {lightFrom + 3, 3.3}, {lightFrom + 5.0, 3}, {lightFrom + 6.8, 2.6},
		{lightFrom + 7.2, 2.4}, {lightFrom + 7.6, 2.2}, {lightFrom + 7.8, 2.1}, {lightFrom + 8, 2}}
	var rings [][]point
	for _, s := range append(outer, inner...) {
		axis[0] = s[0]
		rings = append(rings, round(alongX, axis, flats(s[1], n), n))
	}
	// The wall is left out between two rings, outside and inside.
	const from, to = 3*n/4 - 3, 3*n/4 + 2
	out := window{4, from, 5, to}
	in := window{len(rings) - 1 - 5, from, len(rings) - 1 - 4, to}
	var b body
	b.bandsBut(rings, []window{out, in})
	b.fan(rings[0])
	b.fan(backwards(rings[len(rings)-1]))
	mirror := []point{}
	for _, c := range out.round() {
		mirror = append(mirror, rings[len(rings)-1-c[0]][c[1]%n])
	}
	b.bands([][]point{out.corners(rings), mirror})
	return b.outward()
}

func searchlightLens() body {
	return dome(alongX, point{lightFrom, roofHoleY, lightZ}, 4, 4, 2).reshaped(func(p point) point {
		return point{2*lightFrom - p[0], p[1], p[2]}
	})
}

func searchlightLamp() body {
	const back = lightFrom + 8
	return lamp(point{0, roofHoleY, lightZ}, 5).reshaped(func(p point) point { return point{back - p[0], p[1], p[2]} })
}

func aerialMast() body {
	const n, x, y, height = 24, 300.0, -2.0, 28.0
	var rings [][]point
	for _, s := range [][3]float64{{0, 2.5, 1}, {0.8, 2.5, 1}, {1.4, 1.6, 0.8}, {10, 1.3, 0.7}, {20, 1, 0.55}, {26, 0.8, 0.45},
		{26.5, 0.8, 0.7}, {27.2, 0.8, 0.7}, {27.6, 0.6, 0.45}, {height, 0.4, 0.3}} {
		rings = append(rings, oval(alongZ, point{x + 1.2*s[0]/height, y, hullTop + s[0]}, flats(s[1], n), flats(s[2], n), n))
	}
	return loft(rings...)
}

// bollard is a post with a cap.
func bollard(x float64) body {
	var line [][2]float64
	for _, s := range [][2]float64{{0, 2.5}, {0.7, 2.5}, {1, 2.2}, {1.4, 1.4}, {3.6, 1.25}, {4, 1.5}, {4.2, 2.1}, {4.6, 2.3},
		{5.2, 2.2}, {5.7, 1.6}, {6, 0.8}} {
		line = append(line, [2]float64{hullTop + s[0], flats(s[1], 32)})
	}
	return turned(alongZ, point{x, -5, 0}, 32, line...)
}

// handrail runs along the starboard edge of the foredeck on four stanchions.
func handrail() body {
	const n, r, from, long, cells, top = 16, 0.8, 20.0, 40.0, 5, hullTop + 6
	var rings [][]point
	add := func(x, r float64) {
		rings = append(rings, round(alongX, point{x, railY, top - 0.8}, flats(r, n), n))
	}
	add(from, 0.4)
	add(from+0.3, 0.7)
	var windows []window
	var posts []float64
	for i := range 4 {
		post := from + 1.8 + (long-3.6)*float64(i)/3
		posts = append(posts, post)
		windows = append(windows, window{len(rings), 9, len(rings) + cells, 14})
		for k := range cells + 1 {
			add(post-0.625+0.25*float64(k), r)
		}
	}
	add(from+long-0.3, 0.7)
	add(from+long, 0.4)
	return trunk(rings, windows, func(w int) [][]point {
		var out [][]point
		for _, s := range [][2]float64{{top - 2, 0.6}, {hullTop + 1.2, 0.6}, {hullTop + 0.7, 0.9}, {hullTop + 0.5, 1.5}, {hullTop, 1.5}} {
			var ring []point
			for _, c := range windows[w].circle() {
				ring = append(ring, point{posts[w] + s[1]*c[0], railY + s[1]*c[1], s[0]})
			}
			out = append(out, ring)
		}
		return out
	})
}

// anchor lies on the deck: shank, stock across it, and arms with palms.
func anchor() body {
	const n, x0, y0, z0 = 24, 38.0, -6.0, hullTop + 2.5
	var rings [][]point
	add := func(x, r float64) { rings = append(rings, round(alongX, point{x, y0, z0}, r, n)) }
	cells := func(from float64) int {
		first := len(rings)
		for k := range 5 {
			add(from+0.4*float64(k), 1)
		}
		return first
	}
	add(x0, 0.6)
	add(x0+0.4, 0.9)
	stock := cells(x0 + 1.5)
	arms := cells(x0 + 13)
	add(x0+15.6, 0.8)
	add(x0+16, 0.4)
	// Corners of the ring a quarter turn apart: to starboard, up, to port, down.
	windows := []window{{stock, 4, stock + 4, 7}, {stock, 16, stock + 4, 19}, {arms, 22, arms + 4, 25}, {arms, 10, arms + 4, 13}}
	ends := []point{{0, 0, 1}, {0, 0, -1}, {0, 1, 0}, {0, -1, 0}}
	return trunk(rings, windows, func(w int) [][]point {
		out, side := ends[w], point{1, 0, 0}.cross(ends[w])
		line := [][4]float64{{1.3, 0, 0.7, 0.7}, {2.1, 0, 0.7, 0.7}, {2.5, 0, 0.9, 0.9}} // out, ahead, half width ahead and aside
		if w >= 2 {
			line = [][4]float64{{1.6, 0.2, 0.8, 0.8}, {2.6, 0.7, 0.8, 0.8}, {3.4, 1.6, 1, 0.8}, {3.8, 2.4, 1.6, 1.2}, {4.4, 4, 1.4, 1.5}, {5, 6, 0.5, 0.6}}
		}
		var grown [][]point
		middle := rings[windows[w].ring+2][0][0]
		for _, s := range line {
			var ring []point
			for _, c := range windows[w].circle() {
				p := point{middle - s[1] + s[2]*c[0], y0, z0}
				ring = append(ring, p.plus(out.times(s[0])).plus(side.times(s[3]*c[1])))
			}
			grown = append(grown, ring)
		}
		return grown
	})
}

// winchBoom reaches out over the door from a foot on the deck; this is the starboard
// image of it.
func winchBoom() body {
	var rings [][]point
	for _, s := range [][4]float64{ // how far out, half width, bottom and top over the deck
		{0, 5.6, 0, 7.6}, {0.4, 6, 0, 8}, {3, 6, 0, 8}, {5, 4.5, 0, 7}, {6.5, 3, 0.2, 6}, {9, 2.3, 0.6, 5.4}, {14, 2, 0.8, 5}, {20, 1.8, 0.8, 4.6},
		{25, 1.6, 0.4, 4.2}, {26, 2.4, 0, 4.6}, {29.4, 2.4, 0, 4.6}, {30, 2, 0.4, 4.2},
	} {
		ring := make([]point, 0, 8)
		for _, c := range rectangle(hullTop+s[2], boomX-s[1], hullTop+s[3], boomX+s[1], 0.5) {
			ring = append(ring, point{c[1], boomRoot + s[0], c[0]})
		}
		rings = append(rings, ring)
	}
	return loft(rings...)
}

// winchHook hangs under the boom's end.
func winchHook() body {
	const y = boomRoot + 27.7
	x, top := boomX+0.5, hullTop
	line := []point{{x, y, top}, {x, y, top - 0.6}, {x, y, top - 0.9}, {x, y, top - 1.6}, {x, y, top - 6}}
	width := []float64{1.5, 1.5, 0.7, 0.5, 0.55}
	for k := 1.0; k <= 8; k++ {
		sin, cos := math.Sincos(math.Pi * k / 8)
		line = append(line, point{x - 0.95*(1-cos), y, top - 6 - 1.35*sin})
		width = append(width, 0.65-0.02*k)
	}
	line = append(line, point{x - 2.05, y, top - 5}, point{x - 2.1, y, top - 4.4})
	return pipe(line, append(width, 0.4, 0.2), 16)
}
