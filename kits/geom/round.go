package geom

import "math"

// Round rounds a number to the given decimals, without negative zero.
func Round(v float64, decimals int) float64 {
	shift := math.Pow10(decimals)
	return math.Round(v*shift)/shift + 0
}

// Round rounds the vector to the given decimals.
func (a Vec) Round(decimals int) Vec {
	return Vec{Round(a[0], decimals), Round(a[1], decimals), Round(a[2], decimals)}
}
