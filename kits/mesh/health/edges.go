package health

import (
	"slices"

	"dryfit/kits/disjoint"
	"dryfit/kits/geom"
)

// edges is what follows from the sides of the triangles. Coincident sides are one
// edge; on a sound surface each edge has two sides, which run in opposite
// directions.
type edges struct {
	count     int
	open      tallied  // edges with one side
	many      tallied  // edges with more than two
	reversed  tallied  // edges whose sides run in the same direction
	twice     tallied  // triangles in the same place as an earlier one
	holes     int      // rings of open edges
	openFaces []uint32 // triangles at them
	odd       []bool   // corners at an edge without two sides that run against each other; nil for none
	seam      geom.Vec // where an edge is open only by number
	closed    int      // edges open only by the last digits of their corners
	gap       float64  // mm, the largest of those
	gapAt     geom.Vec // where one is
	shell     []int32  // of each triangle
	shells    int
}

// tallied counts faults and keeps the place of one.
type tallied struct {
	n  int
	at geom.Vec
}

func (t *tallied) add(at func() geom.Vec) {
	if t.n == 0 {
		t.at = at()
	}
	t.n++
}

// side is a side of a triangle: the higher corner of its edge in the upper half, and in the
// lower the triangle's number, which side it is (2 bits) and the flags.
type side uint64

// Flags of a side. They spare most looks at the triangle itself.
const (
	forward side = 1 << iota // it runs from the lower corner to the higher
	below                    // the corner opposite is higher than both
	sideStep
)

func (s side) corner() uint32 { return uint32(s >> 32) }
func (s side) face() int      { return int(uint32(s) / (4 * uint32(sideStep))) }

// third is the corner opposite the side.
func (s side) third(faces [][3]uint32) uint32 {
	return faces[s.face()][(s/sideStep%4+2)%3]
}

// sides lists the sides of all triangles by the lower corner of their edge: those of
// corner c are list[start[c]:start[c+1]], in order of triangles.
func (s *surface) sides() (start []uint32, list []side) {
	start = make([]uint32, len(s.corners)+2)
	for _, f := range s.faces {
		start[min(f[0], f[1])+2]++
		start[min(f[1], f[2])+2]++
		start[min(f[2], f[0])+2]++
	}
	for c := 1; c < len(start); c++ {
		start[c] += start[c-1]
	}
	list = make([]side, 3*len(s.faces))
	// Filling moves start[c+1] from the start of the sides of c to their end.
	for i, f := range s.faces {
		number := side(i) * 4 * sideStep
		for k := range 3 {
			a, b, third := f[k], f[(k+1)%3], f[(k+2)%3]
			one := number + side(k)*sideStep
			if a < b {
				one |= forward
			}
			if third > max(a, b) {
				one |= below
			}
			at := &start[min(a, b)+1]
			list[*at] = side(max(a, b))<<32 | one
			*at++
		}
	}
	return start, list
}

// edges connects the triangles. Triangles that share an edge belong to one shell,
// no matter how many.
func (s *surface) edges() *edges {
	start, list := s.sides()
	e := &edges{}
	shells := disjoint.New(len(s.faces))
	var rings *disjoint.Sets
	var seen []bool
	touched := 0
	for c := range s.corners {
		own := list[start[c]:start[c+1]]
		slices.Sort(own)
		for len(own) > 0 {
			n := 1
			for n < len(own) && own[n].corner() == own[0].corner() {
				shells.Join(own[n].face(), own[0].face())
				n++
			}
			e.take(s, uint32(c), own[:n])
			if n == 1 {
				if rings == nil {
					rings, seen = disjoint.New(len(s.corners)), make([]bool, len(s.corners))
				}
				for _, end := range [2]int{c, int(own[0].corner())} {
					if !seen[end] {
						seen[end] = true
						touched++
					}
				}
				rings.Join(c, int(own[0].corner()))
			}
			own = own[n:]
		}
	}
	if rings != nil {
		e.holes = touched - rings.Joined
	}
	e.shell, e.shells = shells.Number()
	return e
}

// take classifies one edge by its sides.
func (e *edges) take(s *surface, c uint32, sides []side) {
	e.count++
	if len(sides) == 2 && (sides[0]^sides[1])&forward != 0 {
		if sides[0]&sides[1]&below != 0 {
			e.doubles(s, sides)
		}
		return
	}
	if e.odd == nil {
		e.odd = make([]bool, len(s.corners))
	}
	e.odd[c], e.odd[sides[0].corner()] = true, true
	at := func() geom.Vec {
		return s.point(c).Plus(s.point(sides[0].corner())).Times(0.5)
	}
	switch n := len(sides); {
	case n == 1:
		e.open.add(at)
		e.openFaces = append(e.openFaces, uint32(sides[0].face()))
		return
	case n > 2:
		e.many.add(at)
	}
	ahead := 0
	for _, d := range sides {
		ahead += int(d & forward)
	}
	if 2*ahead != len(sides) {
		e.reversed.add(at)
	}
	e.doubles(s, sides)
}

// doubles counts triangles in the same place. Duplicates share three edges and
// are counted at the one opposite the highest corner.
func (e *edges) doubles(s *surface, sides []side) {
	var few [8]uint32
	thirds := few[:0]
	for _, d := range sides {
		if d&below != 0 {
			thirds = append(thirds, d.third(s.faces))
		}
	}
	slices.Sort(thirds)
	for i := 1; i < len(thirds); i++ {
		if thirds[i] == thirds[i-1] {
			e.twice.add(func() geom.Vec {
				return s.point(sides[0].corner()).Plus(s.point(thirds[i])).Times(0.5)
			})
		}
	}
}
