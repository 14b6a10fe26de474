package plan

import (
	"fmt"
	"math"
	"strings"
)

// mm writes lengths given in mm in the unit of the kit file: 62 x 38 mm.
func (r *Constraints) mm(sides ...float64) string {
	parts := make([]string, len(sides))
	for i, s := range sides {
		parts[i] = r.inUnit(s)
	}
	return strings.Join(parts, " x ") + " " + r.Kit.Unit.Name
}

// inUnit writes a length given in mm as a number in the unit of the kit file.
func (r *Constraints) inUnit(v float64) string {
	s := fmt.Sprintf("%.*f", r.decimals(), v/r.Kit.Unit.MM)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// decimals is how many are written: a hundredth of a mm, or finer.
func (r *Constraints) decimals() int {
	if r.Kit.Unit.MM > 1 {
		return 3
	}
	return 2
}

// upTo is the least length, in mm, that is not less than v and can be written in the
// unit of the kit file, so that a repair can be applied as it is printed.
func (r *Constraints) upTo(v float64) float64 {
	step := r.Kit.Unit.MM / math.Pow10(r.decimals())
	return math.Ceil(v/step-1e-6) * step
}
