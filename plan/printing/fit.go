package printing

import (
	"math"

	"dryfit/kits/geom"
)

// Way is how a part goes into a printer's volume.
type Way string

// Ways in, the simplest first.
const (
	Straight Way = "straight" // oriented as in the model, or turned by right angles
	Turned   Way = "turned"   // one axis of the model upright, turned about it
	Tilted   Way = "tilted"   // at any angle
	TooLarge Way = "no"       // no way was found
)

// Fitting is how a part goes into a volume or, if it does not fit, the nearest
// turn.
type Fitting struct {
	Way  Way
	Turn Turn
	Size geom.Vec // along the printer's axes, mm
	Over geom.Vec // by how much it sticks out along each of them, mm; zero if it fits
}

// spareRoom is by how much a part may be too large and still fit: no printer
// resolves a micrometre.
const spareRoom = 0.001 // mm

// Fit looks for a turn at which a hull fits a volume: straight, then turned, then
// tilted, on a flat face or at any angle. A way found is certain, since the hull was measured at
// that turn; that there is none is the result of a search, see [nearest].
func Fit(h *Hull, volume [3]float64) Fitting {
	for _, t := range rightAngles {
		if f := fitting(Straight, t, h, volume); f.fits() {
			return f
		}
	}
	for _, up := range rightAngles[:3] {
		if f, ok := upright(Turned, up, h, volume); ok {
			return f
		}
	}
	for _, face := range h.Facets[:min(len(h.Facets), maxBases)] {
		if f, ok := upright(Tilted, standing(face.Normal), h, volume); ok {
			return f
		}
	}
	f := fitting(Tilted, nearest(h, volume), h, volume)
	if !f.fits() {
		f.Way = TooLarge
	}
	return f
}

// upright turns a hull that stands at a turn about the upright, so that it fits, if it can.
func upright(way Way, t Turn, h *Hull, volume [3]float64) (Fitting, bool) {
	if f := fitting(way, t, h, volume); f.Over[2] > 0 {
		return Fitting{}, false
	}
	angle, ok := turnedUpright(shadow(h.Points, t), h.Slack, volume)
	if !ok {
		return Fitting{}, false
	}
	return fitting(way, about(2, -angle).after(t), h, volume), true
}

// fitting measures a hull at a turn.
func fitting(way Way, t Turn, h *Hull, volume geom.Vec) Fitting {
	f := Fitting{Way: way, Turn: t, Size: t.size(h.Points)}
	for k := range 3 {
		f.Size[k] += 2 * h.Slack
		if over := f.Size[k] - volume[k]; over > spareRoom {
			f.Over[k] = over
		}
	}
	return f
}

func (f *Fitting) fits() bool { return f.Over == geom.Vec{} }

// rightAngles are the six ways to lay the three axes of the model along those of
// the printer, starting with the orientation in the model; each is a rotation.
var rightAngles = func() []Turn {
	var list []Turn
	for _, a := range [][3]int{{0, 1, 2}, {2, 0, 1}, {1, 2, 0}, {1, 0, 2}, {0, 2, 1}, {2, 1, 0}} {
		var t Turn
		for row, axis := range a {
			t[row][axis] = 1
		}
		if d := t[0].Cross(t[1]).Dot(t[2]); d < 0 {
			t[0] = t[0].Times(-1)
		}
		list = append(list, t)
	}
	return list
}()

// turnedUpright looks for an angle of the bed under a shadow at which the shadow
// fits. It samples the excess at every degree, and closely around every local
// minimum.
func turnedUpright(ring [][2]float64, slack float64, volume geom.Vec) (float64, bool) {
	excess := func(angle float64) float64 {
		w, d := boxAt(ring, angle)
		return max(w-volume[0], d-volume[1]) + 2*slack
	}
	var at [180]float64
	for a := range at {
		at[a] = excess(radians(float64(a)))
	}
	best, least := 0.0, math.Inf(1)
	for a, e := range at {
		if e > at[(a+1)%180] || e > at[(a+179)%180] {
			continue
		}
		if angle, e := lowest(excess, radians(float64(a)), radians(1)); e < least {
			best, least = angle, e
		}
	}
	return best, least <= spareRoom
}

// lowest halves its steps to both sides of an angle until they are negligible.
func lowest(f func(float64) float64, at, step float64) (float64, float64) {
	least := f(at)
	for step > 1e-7 {
		moved := false
		for _, to := range []float64{at - step, at + step} {
			if v := f(to); v < least {
				at, least, moved = to, v, true
			}
		}
		if !moved {
			step /= 2
		}
	}
	return at, least
}

// shadow is the convex shadow of points on the bed.
func shadow(points []geom.Vec, t Turn) [][2]float64 {
	flat := make([][2]float64, len(points))
	for i, p := range points {
		flat[i] = [2]float64{t[0].Dot(p), t[1].Dot(p)}
	}
	return convex(flat)
}

// turned is a shadow along axes turned by an angle.
func turned(ring [][2]float64, angle float64) [][2]float64 {
	s, c := math.Sincos(angle)
	out := make([][2]float64, len(ring))
	for i, p := range ring {
		out[i] = [2]float64{c*p[0] + s*p[1], c*p[1] - s*p[0]}
	}
	return out
}

// boxAt is the width and depth of a shadow along axes turned by an angle.
func boxAt(flat [][2]float64, angle float64) (w, d float64) {
	s, c := math.Sincos(angle)
	x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range flat {
		x, y := c*p[0]+s*p[1], c*p[1]-s*p[0]
		x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
	}
	return x1 - x0, y1 - y0
}
