package draw

import (
	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// Portrait draws pieces by themselves, from the first of [Views], at a scale.
func (s *Model) Portrait(pieces []int, scale float64) *picture.Picture {
	v := Views[0]
	things := s.things(false, pieces, geom.Vec{})
	region := shadows(v, things)
	if region.empty() {
		return nil
	}
	const edge = 0.6 // mm of paper, for the width of the lines
	b := newBuffer(framing(v, region, scale), things...)
	p := &picture.Picture{Width: region.width()*scale + 2*edge, Height: region.height()*scale + 2*edge, Scale: scale}
	all := b.strokes(things...)
	if len(all.bends) > 0 {
		p.Add(picture.Mark{Paths: inMM(all.bends, edge, edge), Stroke: paleInk, Width: oldBend})
	}
	if len(all.outline) > 0 {
		p.Add(picture.Mark{Paths: inMM(all.outline, edge, edge), Stroke: ink, Width: 0.25})
	}
	p.Lighten(newTone, keyTone)
	return p.Round()
}
