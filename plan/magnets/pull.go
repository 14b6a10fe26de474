package magnets

import "math"

// Pull says how two dipoles act along the line between them: positive when they
// attract, negative when they repel, near 0 when they do neither. a and b are the
// directions of their norths and r that from one to the other, of any length but none.
//
// The energy of two dipoles is proportional to a.b - 3 (a.r)(b.r) over the cube of
// the distance, with all directions of length 1: what lowers it nearer by attracts. Of
// magnets one over the other, norths that point the same way attract, because a north
// then faces a south; side by side they repel.
func Pull(a, b, r [3]float64) float64 {
	a, b, r = unit(a), unit(b), unit(r)
	return 3*dot(a, r)*dot(b, r) - dot(a, b)
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func unit(a [3]float64) [3]float64 {
	// By the largest first, so that no square is lost or overflows.
	most := max(math.Abs(a[0]), math.Abs(a[1]), math.Abs(a[2]))
	for k := range 3 {
		a[k] /= most
	}
	n := math.Sqrt(dot(a, a))
	return [3]float64{a[0] / n, a[1] / n, a[2] / n}
}
