package shapes

import "math"

// canopy stands on the edge of the cockpit's opening: a dome, steep in front and at
// the sides, with frames between its panes.
func canopy() body {
	xs, ys := canopyLines([]float64{0.18, 0.42, 0.66, 0.86}), canopyLines([]float64{0.24, 0.76})
	const foot, height = 1.0, 20.0
	from, to, half := cockpitFrom-foot, cockpitTo+foot, cockpitEdge+foot
	middle := point{(from + to) / 2, 0, hullTop}
	shape := func(i, j int) point {
		u, v := xs[i], 2*ys[j]-1
		return point{mix(from, to, u), half * v, hullTop + height*canopyRise(u)*math.Pow(max(1-math.Pow(math.Abs(v), 3.4), 0), 0.55)}
	}
	pane := func(i, j int) bool {
		return !onFrame(xs[i], []float64{0.18, 0.42, 0.66, 0.86}) && !onFrame(ys[j], []float64{0.24, 0.76}) &&
			xs[i] > 0.035 && xs[i] < 0.965 && ys[j] > 0.035 && ys[j] < 0.965
	}
	scaled := func(p point, f float64) point { return middle.plus(p.minus(middle).times(f)) }
	return slab{
		cells: [2]int{len(xs) - 1, len(ys) - 1},
		top: func(i, j int) point {
			if pane(i, j) {
				return scaled(shape(i, j), 0.985)
			}
			return shape(i, j)
		},
		bottom: func(i, j int) point {
			p := scaled(shape(i, j), 0.945)
			p[0] = middle[0] + (shape(i, j)[0]-middle[0])*0.955
			return p
		},
	}.body()
}

// canopyRise is the height along the length, as a share: windscreen, roof, a slope aft.
func canopyRise(u float64) float64 {
	const top = 0.46
	if u < top {
		t := 1 - u/top
		return math.Pow(max(1-math.Pow(t, 2.2), 0), 0.75)
	}
	t := (u - top) / (1 - top)
	return math.Pow(max(1-math.Pow(t, 3), 0), 0.7)
}

const frameHalf = 0.017

func onFrame(u float64, frames []float64) bool {
	for _, f := range frames {
		if math.Abs(u-f) < frameHalf+1e-9 {
			return true
		}
	}
	return false
}

// canopyLines are closer together at the ends, where the dome is steep, and in pairs
// at the frames' edges.
func canopyLines(frames []float64) []float64 {
	var list []float64
	const steps = 44
	for k := range steps + 1 {
		u := (1 - math.Cos(math.Pi*float64(k)/steps)) / 2
		near := false
		for _, f := range frames {
			near = near || math.Abs(u-f) < frameHalf+0.008
		}
		if !near {
			list = append(list, u)
		}
	}
	for _, f := range frames {
		list = append(list, f-frameHalf-0.004, f-frameHalf, f, f+frameHalf, f+frameHalf+0.004)
	}
	return sorted(list)
}
