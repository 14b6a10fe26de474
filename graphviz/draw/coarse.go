package draw

import "math"

// roughBodies are the bodies with close corners made one, some ten times fewer
// triangles: enough to tell what hides what.
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

// roundedDown is a size less up to an eighth of it, so that most changes of a size do not
// change what follows from it.
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

// coarser makes corners in the same cell one. The result has no edges, for it is
// never drawn.
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
	for _, t := range b.triangles {
		i, j, k := to[t[0]], to[t[1]], to[t[2]]
		if i != j && j != k && k != i {
			c.triangles = append(c.triangles, [3]int32{i, j, k})
		}
	}
	if len(c.triangles) == 0 {
		return b
	}
	return c
}
