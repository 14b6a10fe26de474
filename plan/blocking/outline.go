package blocking

import "dryfit/kits/geom"

// outline is how far the box of a piece reaches, in mm, across a direction and along
// it.
type outline struct {
	left, right, low, high float64
	back, front            float64
}

// outlines is the outlines of all pieces along a direction, worked out once.
func (t *disassembler) outlines(out geom.Vec) []outline {
	if list, known := t.outlinesOf[out]; known {
		return list
	}
	u, v := across(out)
	list := make([]outline, len(t.m.Pieces))
	for p, piece := range t.m.Pieces {
		o := &list[p]
		o.left, o.right = piece.Along(u)
		o.low, o.high = piece.Along(v)
		o.back, o.front = piece.Along(out)
	}
	if t.outlinesOf == nil {
		t.outlinesOf = map[geom.Vec][]outline{}
	}
	t.outlinesOf[out] = list
	return list
}

// contains reports whether an outline holds another and reaches further out than the
// other's back.
func (o *outline) contains(in *outline) bool {
	return in.left >= o.left && in.right <= o.right && in.low >= o.low && in.high <= o.high && o.front > in.back
}
