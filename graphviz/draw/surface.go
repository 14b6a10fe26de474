package draw

// Surface is a body as plain lists, for others that draw: corners, triangles by their
// corners, and the edges that show from wherever they can be seen.
type Surface struct {
	Corners   [][3]float32
	Triangles [][3]int32
	Edges     [][2]int32
}

// Surface gives the lists of a body; they are the body's own and not to be changed.
func (b *Body) Surface() Surface {
	s := Surface{Corners: b.corners, Triangles: b.triangles}
	for _, e := range b.edges {
		if e.sharp {
			s.Edges = append(s.Edges, [2]int32{e.from, e.to})
		}
	}
	return s
}

// Coarse lists the triangles that are left when corners closer than grain, in mm, are
// made one, by the same corners.
func (b *Body) Coarse(grain float64) [][3]int32 {
	w := &welder{grain: grain, at: newTable(len(b.corners) / 4), low: b.Min}
	first := make([]int32, len(b.corners))
	var kept []int32 // cell -> its first corner
	for i, c := range b.corners {
		cell := w.corner(c)
		if int(cell) == len(kept) {
			kept = append(kept, int32(i))
		}
		first[i] = kept[cell]
	}
	var list [][3]int32
	for _, t := range b.triangles {
		i, j, k := first[t[0]], first[t[1]], first[t[2]]
		if i != j && j != k && k != i {
			list = append(list, [3]int32{i, j, k})
		}
	}
	return list
}
