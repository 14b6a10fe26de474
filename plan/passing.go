package plan

import (
	"math"
	"slices"

	"dryfit/kits"
)

// Passing is how a piece gets through an opening.
type Passing int

// From worst to best. BySize is for an opening that does not state the axis it
// faces, so that only the two smaller sides can be compared; Unsized is for a kit
// that gives no size to compare.
const (
	Cannot Passing = iota
	ByTurning
	BySize
	Unsized
	Straight
)

func (p Passing) String() string {
	return [...]string{"cannot", "only by turning", "by size only", "size not given", "straight in"}[p]
}

// RectangleFits reports whether a rectangle p by q passes through a rectangle a by
// b, turned any way in its plane. All in the same unit; touching counts as
// fitting. Source: Carver, 1957, as given by J. E. Wetzel, "Rectangles in
// Rectangles", Mathematics Magazine 73 (2000) 204-211.
func RectangleFits(p, q, a, b float64) bool {
	if p < q {
		p, q = q, p
	}
	if a < b {
		a, b = b, a
	}
	const tiny = 1e-9
	if p <= a+tiny {
		return q <= b+tiny
	}
	if q > b+tiny {
		return false
	}
	// p > a, so p > q unless both equal a or more, where q <= b <= a < p.
	sum, difference := (a+b)/(p+q), (a-b)/(p-q)
	return sum*sum+difference*difference >= 2-tiny
}

// pass tells how a box passes an opening with the given total clearance, all in
// mm. A nil opening is a whole side.
func pass(size *kits.Size, o *Clear, clearance float64) Passing {
	switch {
	case o == nil:
		return Straight
	case size == nil:
		return Unsized
	}
	s := size.XYZ[:]
	if o.Facing != "" {
		w, h := across(s, o.Facing)
		if w+clearance <= o.W+1e-9 && h+clearance <= o.H+1e-9 {
			return Straight
		}
	}
	s = slices.Sorted(slices.Values(s))
	if !RectangleFits(s[0]+clearance, s[1]+clearance, o.W, o.H) {
		return Cannot
	}
	if o.Facing != "" {
		return ByTurning
	}
	return BySize
}

// PassOf words how a box of a size in mm passes a clear opening of w by h that faces
// an axis, with nothing to spare.
func PassOf(size [3]float64, w, h float64, facing string, wholeSide bool) string {
	if wholeSide {
		return Straight.String()
	}
	return pass(&kits.Size{XYZ: size}, &Clear{w, h, facing}, 0).String()
}

// Across returns the two sides of a box that lie across an axis, "x", "y" or "z",
// in the order x, y, z.
func Across(size [3]float64, axis string) (w, h float64) { return across(size[:], axis) }

// across is [Across] for a slice.
func across(s []float64, axis string) (w, h float64) {
	switch axis {
	case "x":
		return s[1], s[2]
	case "y":
		return s[0], s[2]
	}
	return s[0], s[1]
}

// RoundHole is the diameter of the narrowest round hole that a box passes
// lengthways: the diagonal of its two smaller sides.
func RoundHole(size *kits.Size) float64 {
	s := slices.Sorted(slices.Values(size.XYZ[:]))
	return math.Hypot(s[0], s[1])
}
