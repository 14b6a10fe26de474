package lights

import "math"

// Series is a series of standard values of resistors: the values of one decade.
type Series struct {
	Name   string
	decade []int // from 10 to 99
}

// Preferred values by IEC 60063:2015, edition 3 (from memory).
var (
	E12 = Series{"E12", []int{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}}
	E24 = Series{"E24", []int{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}}
)

// sameValue is the relative difference within which two resistances are the same
// value: far above rounding errors, far below the steps of a series.
const sameValue = 1e-9

// Up rounds r ohm, which is positive, up to a value of the series.
func (s Series) Up(r float64) float64 {
	tenth := math.Pow(10, math.Floor(math.Log10(r))-1)
	for ; ; tenth *= 10 {
		for _, v := range s.decade {
			if at := float64(v) * tenth; at >= r*(1-sameValue) {
				return math.Round(at*1e6) / 1e6 // whole ohms stay whole
			}
		}
	}
}

// Has reports whether r ohm is a value of the series.
func (s Series) Has(r float64) bool { return math.Abs(s.Up(r)-r) <= 1e-6*r }

// Resistance is the resistor, in ohm, that lets a current of mA through n lamps in
// series of a forward voltage: R = (Vs - n Vf) / I. It is not positive when nothing
// is left of the supply for it.
func Resistance(volts float64, n int, forward, mA float64) float64 {
	return 1000 * (volts - float64(n)*forward) / mA
}

// Current is the current through n lamps and a resistor, in mA; 0 below the
// voltage of the lamps.
func Current(volts float64, n int, forward, ohm float64) float64 {
	return max(0, 1000*(volts-float64(n)*forward)/ohm)
}

// ratings are the usual ones of resistors, in mW (common practice).
var ratings = []float64{125, 250, 500, 1000, 2000, 3000, 5000}

// Rating is the smallest rating, in mW, of at least twice a power in mW, which
// keeps the resistor cool (common practice); 0 if there is none that large.
func Rating(power float64) float64 {
	for _, r := range ratings {
		if r >= 2*power {
			return r
		}
	}
	return 0
}
