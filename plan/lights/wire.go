package lights

import "math"

// Diameter is the diameter of a solid bare wire of an AWG number, in mm, by the
// formula that ASTM B258 tabulates: 0.127 mm at 36, and 39 steps to 92 times that
// (from memory, edition not looked up). A stranded wire of the same number is a little thicker.
func Diameter(gauge int) float64 {
	return 0.127 * math.Pow(92, float64(36-gauge)/39)
}

// copper is the resistivity of annealed copper at 20 degrees Celsius, in ohm mm2/m
// (the International Annealed Copper Standard of IEC 60028, 1925: 1/58; from memory).
const copper = 1.0 / 58

// OhmPerMetre is the resistance of a solid copper wire of an AWG number.
func OhmPerMetre(gauge int) float64 {
	d := Diameter(gauge)
	return copper / (math.Pi / 4 * d * d)
}
