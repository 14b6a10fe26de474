package printing

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// free is what the pieces can use of a bed, mm. It includes the tolerance by which a
// piece may be too large.
func free(p *kits.Printer) [2]float64 {
	edge := 2 * (p.Edge + p.Border)
	return [2]float64{p.Volume[0] - edge + spareRoom, p.Volume[1] - edge + spareRoom}
}

// gap is what stays free between two pieces, mm.
func gap(p *kits.Printer) float64 { return p.Margin + 2*p.Border }

// clears reports whether a piece leaves the edge of the bed free. One that does not
// is alone on its plate.
func (s *Setting) clears(p *kits.Printer) bool {
	room := free(p)
	return s.Size[0] <= room[0] && s.Size[1] <= room[1] || s.Size[1] <= room[0] && s.Size[0] <= room[1]
}

// inward turns a piece that comes too near to the edge of the bed about the upright
// axis, if it then leaves the edge free.
func (f *facts) inward(s *Setting, p *kits.Printer) {
	if s.clears(p) {
		return
	}
	room := free(p)
	angle, ok := turnedUpright(slices.Clone(s.Shadow), f.hull.Slack, geom.Vec{room[0] - spareRoom, room[1] - spareRoom, p.Volume[2]})
	if !ok {
		return
	}
	s.Turn = about(2, -angle).after(s.Turn)
	s.Shadow = fromCorner(turned(s.Shadow, angle))
}
