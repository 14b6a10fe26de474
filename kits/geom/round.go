package geom

import "math"

// Round is a number with so many decimals; it has no negative zero.
func Round(v float64, decimals int) float64 {
	shift := math.Pow10(decimals)
	return math.Round(v*shift)/shift + 0
}

// Round is the vector with so many decimals.
func (a Vec) Round(decimals int) Vec {
	return Vec{Round(a[0], decimals), Round(a[1], decimals), Round(a[2], decimals)}
}
