package english

import (
	"fmt"
	"math"
	"strings"

	"dryfit/kits/geom"
)

// Direction words a direction: +x, -y, or its three numbers, as small integers
// where possible.
func Direction(d geom.Vec) string {
	u := d.Unit()
	for k, name := range []string{"x", "y", "z"} {
		switch {
		case u[k] > 1-1e-9:
			return "+" + name
		case u[k] < -1+1e-9:
			return "-" + name
		}
	}
	least := math.Inf(1)
	for _, x := range u {
		if math.Abs(x) > 1e-9 {
			least = min(least, math.Abs(x))
		}
	}
	var words []string
	for _, x := range u {
		n := x / least
		if math.Abs(n-math.Round(n)) > 1e-6 || math.Abs(n) > 9 {
			return fmt.Sprintf("[%s, %s, %s]", Number(u[0], 4), Number(u[1], 4), Number(u[2], 4))
		}
		words = append(words, Number(n, 0))
	}
	return "[" + strings.Join(words, ", ") + "]"
}
