package english

import "fmt"

// Position is a place in the model, given in mm, to a tenth.
func Position(p [3]float64) string {
	return fmt.Sprintf("x %.1f, y %.1f, z %.1f mm", p[0]+0, p[1]+0, p[2]+0)
}
