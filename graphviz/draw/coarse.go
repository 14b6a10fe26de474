package draw

import "math"

// roughBodies are the bodies with close corners merged, about a tenth of the triangles:
// enough to tell what hides what.
func (s *Model) roughBodies() []*Body {
	s.once.Do(s.makeRough)
	return s.rough
}

func (s *Model) makeRough() {
	all := 0.0
	if b, ok := s.box(every(len(s.Bodies))); ok {
		all = roundedDown(b.Size().Length())
	}
	s.rough = make([]*Body, len(s.Bodies))
	shared(len(s.Bodies), func(from, to int) {
		for i := from; i < to; i++ {
			if b := s.Bodies[i]; b != nil {
				s.rough[i] = b.coarser(math.Min(all/400, b.Size().Length()/24))
			}
		}
	})
}

// roundedDown reduces a size by up to an eighth, so that most changes of a size do not
// change what depends on it.
func roundedDown(size float64) float64 {
	part, power := math.Frexp(size) // part is 0, or from 1/2 to 1
	return math.Ldexp(math.Floor(part*16)/16, power)
}

func every(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// coarser merges the corners in each cell. The result has no edges, for it is never drawn.
func (b *Body) coarser(grain float64) *Body {
	if grain <= 0 {
		return b
	}
	w := &welder{grain: grain, at: newTable(len(b.corners) / 4), low: b.Min}
	to := make([]int32, len(b.corners))
	for i, c := range b.corners {
		to[i] = w.corner(c)
	}
	c := &Body{Box: b.Box, corners: w.list}
	c.triangles = renumbered(b.triangles, to)
	if len(c.triangles) == 0 {
		return b
	}
	return c
}

// Coarse lists the triangles that are left when corners closer than grain, in mm, are
// merged, by the numbers of the corners in full detail.
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
	return renumbered(b.triangles, first)
}

// renumbered gives triangles other corners, and drops those that collapse.
func renumbered(triangles [][3]int32, to []int32) [][3]int32 {
	var list [][3]int32
	for _, t := range triangles {
		i, j, k := to[t[0]], to[t[1]], to[t[2]]
		if i != j && j != k && k != i {
			list = append(list, [3]int32{i, j, k})
		}
	}
	return list
}
