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
	b := newBuffer(framing(v, region, scale))
	b.add(things...)
	p := &picture.Picture{Width: region.width()*scale + 2*edge, Height: region.height()*scale + 2*edge, Scale: scale}
	all := b.strokes(things...)
	for _, l := range append(all.outline, all.bends...) {
		for i := range l {
			l[i] = inMM(l[i], edge, edge)
		}
	}
	if len(all.bends) > 0 {
		p.Add(picture.Mark{Paths: all.bends, Stroke: paleInk, Width: oldBend})
	}
	if len(all.outline) > 0 {
		p.Add(picture.Mark{Paths: all.outline, Stroke: ink, Width: 0.25})
	}
	p.Lighten(newTone, keyTone)
	return p.Round()
}
