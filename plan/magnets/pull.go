package magnets

import (
	"math"

	"dryfit/kits/geom"
)

// Pull says how two dipoles act along the line between them: positive when they
// attract, negative when they repel, near 0 when they do neither. a and b are the
// directions of their norths and r that from one to the other, of any length but
// zero.
//
// The energy of two dipoles is proportional to a.b - 3 (a.r)(b.r) over the cube
// of the distance, with unit directions; they attract if coming closer lowers it.
// For magnets one over the other, norths that point the same way attract, because
// a north then faces a south; side by side they repel.
func Pull(a, b, r geom.Vec) float64 {
	a, b, r = unit(a), unit(b), unit(r)
	return 3*a.Dot(r)*b.Dot(r) - a.Dot(b)
}

// unit divides by the largest component first, so that no square underflows or
// overflows.
func unit(a geom.Vec) geom.Vec {
	most := max(math.Abs(a[0]), math.Abs(a[1]), math.Abs(a[2]))
	for k := range a {
		a[k] /= most
	}
	return a.Unit()
}
