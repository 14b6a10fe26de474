package printing

import (
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// facing sums up the area of a surface by direction, in cells about 7 degrees
// wide over the sphere, as area times mean direction. It quickly gives how much
// of the surface faces down at any turn of the part.
type facing struct {
	cells []geom.Vec // by number; most stay empty
	list  []geom.Vec // the cells that are not empty, once sum was called
	area2 []float64  // their squared lengths
	area  float64
}

const facingCells = 12 // along a side of each of the six faces of a cube around the sphere

func newFacing() *facing { return &facing{cells: make([]geom.Vec, 6*facingCells*facingCells)} }

func (f *facing) add(block []mesh.Triangle) {
	for i := range block {
		a, b, c := geom.Point(block[i][0]), geom.Point(block[i][1]), geom.Point(block[i][2])
		n := b.Minus(a).Cross(c.Minus(a)).Times(0.5)
		if n == (geom.Vec{}) {
			continue
		}
		f.area += n.Length()
		cell := &f.cells[facingCell(n)]
		*cell = (*cell).Plus(n)
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
		if c != (geom.Vec{}) {
			f.list = append(f.list, c)
			f.area2 = append(f.area2, c.Dot(c)*(1+1e-6)) // what faces exactly at an angle is not within it
		}
	}
	f.cells = nil
}

// seen is how much of a surface faces within some angles of a direction or its
// opposite, in mm2 of shadow along it.
type seen struct {
	steep  float64 // faces it to within supportAngle
	marked float64 // to within clearAngle
	film   float64 // either way, to within filmAngle
}

// at sums up what faces a direction.
func (f *facing) at(d geom.Vec) (s seen) {
	steep, marked, film := square(cosine(supportAngle)), square(cosine(clearAngle)), square(cosine(filmAngle))
	for i := range f.list {
		v := f.list[i].Dot(d)
		c := v * v
		if c > film*f.area2[i] {
			s.film += math.Abs(v)
		}
		if v <= 0 {
			continue
		}
		if c > steep*f.area2[i] {
			s.steep += v
		}
		if c > marked*f.area2[i] {
			s.marked += v
		}
	}
	return s
}

func square(v float64) float64 { return v * v }

// contactDepth is how far, in mm, a surface may be from the bed and still lie on
// it.
const contactDepth = 0.03

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
			if c.offset[k]-n.Dot(p[0]) > contactDepth || c.offset[k]-n.Dot(p[1]) > contactDepth || c.offset[k]-n.Dot(p[2]) > contactDepth {
				continue
			}
			if a := n.Dot(p[1].Minus(p[0]).Cross(p[2].Minus(p[0]))) / 2; a > 0 {
				c.area[k] += a
			}
		}
	}
}
