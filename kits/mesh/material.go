package mesh

import "math"

// Wall is the thickness, in mm, to which filament parts are printed solid at
// their surface: three lines of 0.4 mm (common practice: walls of 1.2 to 1.6 mm).
const Wall = 1.2

// Material is the printed volume of a shape, in mm3, when only a fraction of its
// inside, 0 to 1, is filled. The solid wall is estimated as [Wall] times the
// surface area, which counts edges twice and so is slightly high.
func (s *Shape) Material(fill float64) float64 {
	shell := math.Min(s.Volume, s.Area*Wall)
	return shell + fill*(s.Volume-shell)
}
