package printing

import (
	"context"
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Profile is the area of a part's layers as printed, from the bed up, each taken
// at half its height. It is exact for a closed surface; where solids overlap, the
// overlap counts for each.
type Profile struct {
	Step float64   // height of a layer, mm; a multiple of the printer's for a very tall part
	Area []float32 // mm2
}

// Layer is an area at a height above the bottom of the part.
type Layer struct{ Area, At float64 } // mm2, mm

// maxLayers and maxCrossings bound the work: beyond them every second layer is
// skipped, and so on.
const (
	maxLayers    = 10_000
	maxCrossings = 400_000_000 // of a triangle and a layer
)

// slice sums up layers: the area of each is half the sum, over the triangles that
// cross it, of the cross products of the two ends of their line of intersection.
type slice struct {
	turn    Turn
	middle  geom.Vec // subtracted first, so that products stay small
	bottom  float64  // of the part along the upright axis, relative to the middle
	step    float64
	area    []float64
	crossed int
}

// Layers slices a part at a turn, from the bottom to the top of its hull. layer
// is the height of the printer's layers, mm. The error is one of reading the
// surface or of the context.
func Layers(ctx context.Context, s Surface, h *Hull, t Turn, layer float64) (*Profile, error) {
	box := t.extents(h.Points)
	middle, height := box.Centre(), box.Size()[2]
	for step := layer; ; step *= 2 {
		n := int(math.Ceil(height/step - 1e-6))
		if n > maxLayers {
			continue
		}
		sl := &slice{turn: t, middle: middle, bottom: -height / 2, step: step, area: make([]float64, max(n, 1))}
		err := each(ctx, s, sl.add)
		if err != nil {
			return nil, err
		}
		if sl.crossed <= maxCrossings {
			return sl.profile(), nil
		}
	}
}

func (sl *slice) add(block []mesh.Triangle) {
	for i := range block {
		if sl.crossed > maxCrossings {
			return
		}
		var p [3]geom.Vec
		for k := range 3 {
			p[k] = sl.turn.apply(geom.Point(block[i][k])).Minus(sl.middle)
		}
		sl.triangle(&p)
	}
}

// triangle adds the lines in which a triangle crosses layers. Which layers it
// crosses follows from an integer for each corner, so that triangles that share a
// corner agree.
func (sl *slice) triangle(p *[3]geom.Vec) {
	a, b, c := &p[0], &p[1], &p[2]
	sign := 0.5 // of the line from the long edge to the two short ones
	if a[2] > b[2] {
		a, b, sign = b, a, -sign
	}
	if b[2] > c[2] {
		b, c, sign = c, b, -sign
	}
	if a[2] > b[2] {
		a, b, sign = b, a, -sign
	}
	from, middle, to := sl.first(a[2]), sl.first(b[2]), sl.first(c[2])
	sl.crossed += to - from
	for n := from; n < to; n++ {
		z := sl.bottom + (float64(n)+0.5)*sl.step
		x0, y0 := cut(a, c, z)
		x1, y1 := 0.0, 0.0
		if n < middle {
			x1, y1 = cut(a, b, z)
		} else {
			x1, y1 = cut(b, c, z)
		}
		sl.area[n] += sign * (x0*y1 - x1*y0)
	}
}

// first is the lowest layer that lies at or above a height.
func (sl *slice) first(z float64) int {
	n := math.Ceil((z-sl.bottom)/sl.step - 0.5)
	return int(min(max(n, 0), float64(len(sl.area))))
}

// cut is where an edge meets a height.
func cut(a, b *geom.Vec, z float64) (x, y float64) {
	f := (z - a[2]) / (b[2] - a[2])
	return a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])
}

func (sl *slice) profile() *Profile {
	p := &Profile{Step: sl.step, Area: make([]float32, len(sl.area))}
	for n, a := range sl.area {
		p.Area[n] = float32(a)
	}
	return p
}

// Largest is the largest layer, at its middle.
func (p *Profile) Largest() (l Layer) {
	for n, a := range p.Area {
		if float64(a) > l.Area {
			l = Layer{float64(a), (float64(n) + 0.5) * p.Step}
		}
	}
	return l
}

// Growth is the largest growth from one layer to the next. The first layer counts
// if it starts on supports, not if it lies on the bed.
func (p *Profile) Growth(onBed bool) (l Layer) {
	if !onBed && len(p.Area) > 0 {
		l.Area = float64(p.Area[0])
	}
	for n := 1; n < len(p.Area); n++ {
		if d := float64(p.Area[n] - p.Area[n-1]); d > l.Area {
			l = Layer{d, float64(n) * p.Step}
		}
	}
	return l
}

// A peg is thin where the layers of a part are below thinLayer in area, which is a
// round peg of 4 mm, for more than thinTip along it; a shorter tip is not long
// enough to be broken off (ours). Several pegs side by side count as one.
const (
	thinLayer = 12.5 // mm2
	thinTip   = 4.0  // mm
)

// thin is how many mm of the height are thin pegs.
func (p *Profile) thin() (mm float64) {
	run := 0.0
	for n := 0; n <= len(p.Area); n++ {
		if n < len(p.Area) && p.Area[n] > 0 && p.Area[n] < thinLayer {
			run += p.Step
			continue
		}
		mm += max(run-thinTip, 0)
		run = 0
	}
	return mm
}
