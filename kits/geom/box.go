package geom

// Box is a box along the axes.
type Box struct{ Min, Max Vec }

// Size is the lengths of the sides.
func (b Box) Size() Vec { return b.Max.Minus(b.Min) }

// Centre is the middle of the box.
func (b Box) Centre() Vec { return b.Min.Plus(b.Max).Times(0.5) }

// Corners lists the eight corners.
func (b Box) Corners() [8]Vec {
	var list [8]Vec
	for i := range list {
		for k := range 3 {
			if list[i][k] = b.Min[k]; i>>k&1 == 1 {
				list[i][k] = b.Max[k]
			}
		}
	}
	return list
}

// With is the box that holds b and a point.
func (b Box) With(p Vec) Box {
	for k := range 3 {
		b.Min[k], b.Max[k] = min(b.Min[k], p[k]), max(b.Max[k], p[k])
	}
	return b
}

// Holds reports whether a point is in the box, its sides included.
func (b Box) Holds(p Vec) bool {
	for k, x := range p {
		if x < b.Min[k] || x > b.Max[k] {
			return false
		}
	}
	return true
}
