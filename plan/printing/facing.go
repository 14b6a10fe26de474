package printing

import (
	"math"
	"sync"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/printing/supports"
)

// facing sums up the area of a surface by direction, in cells about 7 degrees
// wide over the sphere, as area times mean direction. It quickly gives how much
// of the surface faces down at any turn of the part.
type facing struct {
	cells *cellsAround // by number; most stay empty; nil once sum was called
	list  []toward     // the cells that are not empty, once sum was called
}

// toward is what faces in one direction.
type toward struct {
	normal geom.Vec    // times area
	seen   geom.Vec    // of it, on visible faces
	moment [3]geom.Vec // normal times where it is
	area2  float64     // square of the normal
}

type cellsAround [6 * facingCells * facingCells]toward

const facingCells = 12 // along a side of each of the six faces of a cube around the sphere

// spareCells are cells that no part uses: they take more memory than most parts do.
var spareCells = sync.Pool{New: func() any { return new(cellsAround) }}

func newFacing() *facing { return &facing{cells: spareCells.Get().(*cellsAround)} }

// add adds a block of triangles; seen, if not nil, says which are visible.
func (f *facing) add(first int, block []mesh.Triangle, seen func(int) bool) {
	for i := range block {
		a, b, c := geom.Point(block[i][0]), geom.Point(block[i][1]), geom.Point(block[i][2])
		n := b.Minus(a).Cross(c.Minus(a)).Times(0.5)
		if n == (geom.Vec{}) {
			continue
		}
		cell := &f.cells[facingCell(n)]
		cell.normal = cell.normal.Plus(n)
		if seen != nil && seen(first+i) {
			cell.seen = cell.seen.Plus(n)
		}
		middle := a.Plus(b).Plus(c).Times(1.0 / 3)
		for k := range 3 {
			cell.moment[k] = cell.moment[k].Plus(middle.Times(n[k]))
		}
	}
}

// facingCell is the number of the cell that a direction goes through.
func facingCell(n geom.Vec) int {
	axis := 0
	for k := 1; k < 3; k++ {
		if math.Abs(n[k]) > math.Abs(n[axis]) {
			axis = k
		}
	}
	side := 2 * axis
	if n[axis] < 0 {
		side++
	}
	cell := func(v float64) int {
		return min(int((v/math.Abs(n[axis])+1)/2*facingCells), facingCells-1)
	}
	return (side*facingCells+cell(n[(axis+1)%3]))*facingCells + cell(n[(axis+2)%3])
}

// sum completes the totals.
func (f *facing) sum() {
	for _, c := range f.cells {
		if c.normal != (geom.Vec{}) {
			c.area2 = c.normal.Dot(c.normal)
			f.list = append(f.list, c)
		}
	}
	clear(f.cells[:])
	spareCells.Put(f.cells)
	f.cells = nil
}

// steep is how much of a surface faces a direction to within an angle, and how
// much is nearly across it.
type steep struct {
	area, seen float64 // mm2, and of it on visible faces
	shadow     float64 // mm2 of shadow along the direction
	depth      float64 // mm3, the shadow times how far along the direction it is
	film       float64 // mm2 of shadow of what is across it to within filmAngle, on both sides
}

// at sums up what faces a direction; the angle is given by its cosine.
func (f *facing) at(d geom.Vec, cosine float64) (s steep) {
	limit := square(cosine) * (1 - 1e-3) // what faces at just the angle counts
	for i := range f.list {
		t := &f.list[i]
		v := t.normal.Dot(d)
		c := v * v
		if c > filmCosine*t.area2 {
			s.film += math.Abs(v)
		}
		if v <= 0 || c < limit*t.area2 {
			continue
		}
		s.area += math.Sqrt(t.area2)
		s.seen += t.seen.Length()
		s.shadow += v
		s.depth += d.Dot(geom.Vec{t.moment[0].Dot(d), t.moment[1].Dot(d), t.moment[2].Dot(d)})
	}
	return s
}

var filmCosine = square(cosine(filmAngle))

func square(v float64) float64 { return v * v }

// contact sums up how much of a surface lies in each of some flat faces of its
// hull, and so would lie on the bed. The hull spans the hollow between feet; the
// surface does not.
type contact struct {
	faces  []Facet
	offset []float64
	area   []float64
}

func newContact(faces []Facet) *contact {
	c := &contact{faces: faces, offset: make([]float64, len(faces)), area: make([]float64, len(faces))}
	for i := range faces {
		c.offset[i] = faces[i].Normal.Dot(faces[i].faces[0][0])
	}
	return c
}

func (c *contact) add(block []mesh.Triangle) {
	for i := range block {
		p := [3]geom.Vec{geom.Point(block[i][0]), geom.Point(block[i][1]), geom.Point(block[i][2])}
		for k := range c.faces {
			n := c.faces[k].Normal
			if c.offset[k]-n.Dot(p[0]) > supports.Contact || c.offset[k]-n.Dot(p[1]) > supports.Contact || c.offset[k]-n.Dot(p[2]) > supports.Contact {
				continue
			}
			if a := n.Dot(p[1].Minus(p[0]).Cross(p[2].Minus(p[0]))) / 2; a > 0 {
				c.area[k] += a
			}
		}
	}
}
