package magnets

import (
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// How much larger a pocket is than its magnet, in mm, in total (common practice):
// enough for glue and for a print that comes out narrow, and little enough to
// hold the magnet straight and near its mate.
const (
	leastSlack = 0.1
	mostSlack  = 0.2
	sameLength = 1e-6 // mm
)

// Slack is how much wider and deeper a pocket is than the magnet in it, in mm. known is
// false unless the magnet is a disc whose size is stated, with an axis along one of the
// model's.
func Slack(m *kits.Magnets, p *kits.Part) (wider, deeper float64, known bool) {
	if m.Pocket == nil || p.Size == nil {
		return 0, 0, false
	}
	diameter, thick, known := Disc(p.Size.XYZ, m.North)
	return m.Pocket.Diameter - diameter, m.Pocket.Depth - thick, known
}

// Disc is the diameter and the thickness of a disc of a size whose axis, along which its
// north points, is one of the model's.
func Disc(size, north geom.Vec) (diameter, thick float64, known bool) {
	n := unit(north)
	for k := range 3 {
		if math.Abs(n[k]) > 1-1e-9 {
			across := size[(k+1)%3]
			return across, size[k], math.Abs(across-size[(k+2)%3]) <= sameLength
		}
	}
	return 0, 0, false
}
