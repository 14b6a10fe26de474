package draw

// Surface is a body as plain lists, for other programs that draw: corners, triangles by
// their corners, and the edges that are drawn from every side.
type Surface struct {
	Corners   [][3]float32
	Triangles [][3]int32
	Edges     [][2]int32
}

// Surface gives the lists of a body. They are shared with the body: do not change them.
func (b *Body) Surface() Surface {
	s := Surface{Corners: b.corners, Triangles: b.triangles}
	for _, e := range b.edges {
		if e.sharp {
			s.Edges = append(s.Edges, [2]int32{e.from, e.to})
		}
	}
	return s
}
