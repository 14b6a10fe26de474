package demo

import (
	"math"
	"slices"
)

// The wing is flat, in three parts, each an upper and a lower skin that meet in one
// plane. The lower skins carry the spar tube in their ribs.

const (
	seam     = 112.0 // height of the plane between the skins
	centre   = 90.0  // half span of the centre section
	tip      = 300.0
	wingAft  = 270.0
	hinge    = 252.0 // of the ailerons
	sparX    = 220.0
	sparFoot = 107.6 // the tube lies on the ribs at this height
	skinWall = 1.2
	lensFrom = 294.0 // the tip light takes the corner from here out
)

func wingPieces() []maker {
	centre, outer := panel{centreStations(), false}, panel{outerStations(), true}
	return slices.Concat(sides("wing-lower", outer.lower), sides("wing-upper", outer.upper), sides("aileron", aileron),
		sides("tip-lens", tipLens), sides("lamp", tipLamp), []maker{
			{"wing-centre-lower", centre.lower},
			{"wing-centre-upper", centre.upper},
			{"spar-tube", func() solid {
				return bored(1, vec{sparX, 0, sparFoot + 2}, 16, [2]float64{-210, 4}, [2]float64{210, 4},
					[2]float64{210, 3}, [2]float64{-210, 3})
			}},
		})
}

// panel is a stretch of the wing between stations along the span.
type panel struct {
	ys    []float64
	outer bool
}

func centreStations() []float64 {
	var list []float64
	for _, y := range []float64{90, 88, 84, 70, 63, 56, 46.5, 43.5, 30, 15, 1.5} {
		list = append(list, -y)
	}
	for n := len(list) - 1; n >= 0; n-- {
		list = append(list, -list[n])
	}
	return list
}

func outerStations() []float64 {
	return []float64{90, 92, 101, 110, 120, 130, 133, 145, 156, 167, 169.8, 180, 192, 205, 208, 220, 232, 243, 250, 253, 258,
		264, 270, 276, 282, 287, 290.2, lensFrom, 297, 299, tip}
}

// Along the chord, the first stations are counted from the leading edge, the others
// are places.
var (
	noseStations = []float64{0, 0.15, 0.5, 1, 1.7, 2.6, 3.8, 5.4, 7.4, 10}
	restStations = []float64{sparX - 2.1, sparX + 2.1, 225, 228, 232, 236, 240, 244, 248, hinge, 258, 264, wingAft}
)

func leading(y float64) float64 { return 190 + 15*max(y-centre, 0)/(tip-centre) }

func chordwise(i int, y float64) float64 {
	if i < len(noseStations) {
		return leading(y) + noseStations[i]
	}
	return restStations[i-len(noseStations)]
}

func chordCells() int { return len(noseStations) + len(restStations) - 1 }

// belly and back are the heights of the thickest places. Under the struts the belly
// is flat.
func belly(y float64) float64 {
	if y <= centre {
		return between(105, 106, smooth((y-84)/6))
	}
	return between(106, 109.6, smooth((y-256)/(tip-256)))
}

func back(y float64) float64 {
	if y <= centre {
		return between(119, 118, smooth((y-84)/6))
	}
	return between(118, 116, (y-centre)/(256-centre)) - max(y-256, 0)*0.018
}

// under and over are the lower and the upper surface.
func under(x, y float64) float64 {
	y = math.Abs(y)
	deep := 1.0
	switch nose := (x - leading(y)) / 10; {
	case nose < 1:
		deep = math.Sqrt(max(1-(1-nose)*(1-nose), 0))
	case x > 236:
		deep = between(1, 0.05, (x-236)/(wingAft-236))
	}
	d := (seam - belly(y)) * deep * tipRound(y)
	if x > 240 { // the after edge keeps some thickness
		d = max(d, 0.35)
	}
	return seam - d
}

func over(x, y float64) float64 {
	y = math.Abs(y)
	nose := (x - leading(y)) / (sparX - leading(y))
	high := 1.0
	if nose < 1 {
		high = math.Pow(max(1-math.Pow(max(1-nose, 0), 2.2), 0), 0.55)
	} else {
		high = max(1-math.Pow((x-sparX)/(wingAft-sparX), 1.1), 0.03)
	}
	h := (back(y) - seam) * high * tipRound(y)
	if nose > 1 {
		h = max(h, 0.35)
	}
	return seam + h
}

func tipRound(y float64) float64 {
	u := max(y-lensFrom, 0) / (tip - lensFrom)
	return math.Sqrt(1 - 0.8*u*u)
}

func (p panel) lower() solid {
	at := func(i, j, k int) vec {
		y := p.ys[j]
		x := chordwise(i, math.Abs(y))
		out := under(x, y)
		in := min(out+skinWall, seam)
		return vec{x, y, [4]float64{out, in, min(max(in, sparFoot), seam), seam}[k]}
	}
	full := func(i, j, k int) bool {
		if p.gap(i, j) {
			return false
		}
		x := chordwise(i, math.Abs(p.ys[j]))
		slot := x == sparX-2.1 || x == 228
		return k == 0 || p.solidAt(i, j) && !(k == 2 && slot && p.slotted(j))
	}
	return lattice{[3]int{chordCells(), len(p.ys) - 1, 3}, at, full, false}.solid()
}

func (p panel) upper() solid {
	at := func(i, j, k int) vec {
		y := p.ys[j]
		x := chordwise(i, math.Abs(y))
		out := over(x, y)
		return vec{x, y, [3]float64{seam, max(out-skinWall, seam), out}[k]}
	}
	full := func(i, j, k int) bool {
		return !p.gap(i, j) && (k == 1 || p.solidAt(i, j))
	}
	return lattice{[3]int{chordCells(), len(p.ys) - 1, 2}, at, full, false}.solid()
}

// gap reports where the aileron and the tip light are.
func (p panel) gap(i, j int) bool {
	y, next := p.ys[j], p.ys[j+1]
	return p.outer && (chordwise(i, y) >= hinge && y >= 169.8 && next <= 290.2 || y >= lensFrom && i < len(noseStations)-1)
}

// solidAt reports where a skin is as thick as the seam: nose, tail, ends and ribs.
func (p panel) solidAt(i, j int) bool {
	x := chordwise(i, math.Abs(p.ys[j]))
	return i < len(noseStations)-3 || x >= 244 || p.rib(j)
}

func (p panel) rib(j int) bool {
	a, b := p.ys[j], p.ys[j+1]
	a, b = min(math.Abs(a), math.Abs(b)), max(math.Abs(a), math.Abs(b))
	for _, r := range [][2]float64{{1.5, 1.5}, {43.5, 46.5}, {88, 92}, {130, 133}, {167, 169.8}, {205, 208}, {250, 253}, {290.2, tip}} {
		if a >= r[0] && b <= r[1] {
			return true
		}
	}
	return false
}

// slotted ribs let the spar and the leads through.
func (p panel) slotted(j int) bool { return math.Abs(p.ys[j]) < 280 }

// aileron carries the section on behind its hinge.
func aileron() solid {
	xs := []float64{hinge, 254, 258, 262, 266, wingAft}
	var ys []float64
	for y := 170.0; y <= 290; y += 10 {
		ys = append(ys, y)
	}
	return lattice{[3]int{len(xs) - 1, len(ys) - 1, 1}, func(i, j, k int) vec {
		if k == 0 {
			return vec{xs[i], ys[j], under(xs[i], ys[j])}
		}
		return vec{xs[i], ys[j], over(xs[i], ys[j])}
	}, nil, false}.solid()
}

func tipLens() solid {
	ys := []float64{lensFrom, 297, 299, tip}
	return lattice{[3]int{len(noseStations) - 1, len(ys) - 1, 1}, func(i, j, k int) vec {
		x, y := chordwise(i, ys[j]), ys[j]
		if k == 0 {
			return vec{x, y, under(x, y)}
		}
		return vec{x, y, over(x, y)}
	}, nil, false}.solid()
}

// tipLamp lies in the lower skin just inside its last rib.
func tipLamp() solid {
	return lampAlong(0, vec{0, 287.6, under(220, 287.6) + skinWall + 1.5}, 221, -1)
}
