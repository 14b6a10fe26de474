package mesh

import "math"

// Wall is how thick filament parts are printed solid at their surface, in mm: three
// lines of 0.4 mm (common practice: walls of 1.2 to 1.6 mm).
const Wall = 1.2

// Material is how much of a shape is printed, in mm3, when its inside is filled only in
// part, 0 to 1: what lies within [Wall] of the surface is taken to be the surface's area
// times that, which counts edges twice, so it is a little much.
func (s *Shape) Material(fill float64) float64 {
	shell := math.Min(s.Volume, s.Area*Wall)
	return shell + fill*(s.Volume-shell)
}
