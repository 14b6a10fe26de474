package lights

import (
	"fmt"
	"math"

	"dryfit/kits/english"
)

// Ohms words a resistance.
func Ohms(r float64) string {
	switch {
	case r >= 1e6:
		return fmt.Sprintf("%.4g megohm", r/1e6)
	case r >= 1e4:
		return fmt.Sprintf("%.4g kilohm", r/1e3)
	}
	return fmt.Sprintf("%.4g ohm", r)
}

// Watts words a rating in mW, in watts.
func Watts(mW float64) string {
	switch mW {
	case 0:
		return "none"
	case 125:
		return "1/8 W"
	case 250:
		return "1/4 W"
	case 500:
		return "1/2 W"
	}
	return fmt.Sprintf("%g W", mW/1000)
}

// volts rounds a voltage for a sentence.
func volts(v float64) string { return english.Number(v, 2) }

// roundUp rounds a length up to whole centimetres.
func roundUp(mm float64) float64 { return math.Ceil(mm/10) * 10 }
