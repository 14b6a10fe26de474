package kits

import (
	"math"
	"strings"

	"dryfit/kits/english"
)

// Unit is the unit of the lengths in a file. All lengths are kept in mm.
type Unit struct {
	Name string
	MM   float64
}

// Lengths writes lengths in mm in the unit: 62 x 38 mm.
func (u Unit) Lengths(mm ...float64) string {
	parts := make([]string, len(mm))
	for i, v := range mm {
		parts[i] = u.Number(v)
	}
	return strings.Join(parts, " x ") + " " + u.Name
}

// Number writes a length in mm as a number in the unit.
func (u Unit) Number(mm float64) string { return english.Number(mm/u.MM, u.decimals()) }

// decimals is the number of decimals written: a hundredth of a mm, or finer.
func (u Unit) decimals() int {
	if u.MM > 1 {
		return 3
	}
	return 2
}

// UpTo rounds a length in mm up to one that can be written exactly in the unit,
// so that a repair can be applied as printed.
func (u Unit) UpTo(v float64) float64 {
	step := u.MM / math.Pow10(u.decimals())
	return math.Ceil(v/step-1e-6) * step
}
