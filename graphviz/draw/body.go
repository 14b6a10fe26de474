package draw

import (
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Body is the surface of one piece prepared for drawing: corners shared between triangles,
// and edges with the triangles on their two sides.
type Body struct {
	geom.Box // along the axes, mm

	corners   [][3]float32
	triangles [][3]int32
	edges     []edge
	closed    bool // every edge has two triangles with the same orientation: what faces away is never seen
}

// edge is a line between two corners. b is -1 where only one triangle meets it.
type edge struct {
	from, to int32
	a, b     int32 // triangles
	sharp    bool  // drawn from every side: a bend, or a border
	up       bool  // the first triangle has its corners in the order from, to
}

// sharpBend is the least angle between two triangles at which their edge is drawn.
// Technical drawings show tangent edges thin or not at all; 30 degrees keeps the facets
// of round shapes out.
const sharpBend = 30 * math.Pi / 180

// NewBody reads a mesh. Corners closer than grain, in mm, are merged, so that a mesh of
// millions of triangles is drawn in the detail that can be seen; a grain of 0 merges only
// equal corners. The error is one of reading the mesh.
func NewBody(m *mesh.Mesh, grain float64) (*Body, error) {
	b := &Body{Box: m.Box, closed: true}
	w := newWelder(m, grain)
	b.triangles = make([][3]int32, 0, m.Len())
	err := m.Blocks(func(_ int, block []mesh.Triangle) error {
		for _, t := range block {
			i, j, k := w.corner(t[0]), w.corner(t[1]), w.corner(t[2])
			if i != j && j != k && k != i {
				b.triangles = append(b.triangles, [3]int32{i, j, k})
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	b.corners = w.list
	b.findEdges()
	return b, nil
}

// Empty reports whether there is nothing to draw.
func (b *Body) Empty() bool { return len(b.triangles) == 0 }

// normal is that of a triangle, of length 1, or zero if it has no area.
func (b *Body) normal(t int32) [3]float32 {
	c := b.triangles[t]
	p, q, r := b.corners[c[0]], b.corners[c[1]], b.corners[c[2]]
	ux, uy, uz := float64(q[0]-p[0]), float64(q[1]-p[1]), float64(q[2]-p[2])
	vx, vy, vz := float64(r[0]-p[0]), float64(r[1]-p[1]), float64(r[2]-p[2])
	x, y, z := uy*vz-uz*vy, uz*vx-ux*vz, ux*vy-uy*vx
	l := math.Sqrt(x*x + y*y + z*z)
	if l == 0 {
		return [3]float32{}
	}
	return [3]float32{float32(x / l), float32(y / l), float32(z / l)}
}

// findEdges pairs the sides of the triangles.
func (b *Body) findEdges() {
	n := len(b.triangles)
	at := newTable(3 * n / 2)
	b.edges = make([]edge, 0, 3*n/2)
	crowded := map[int32]bool{}
	for t, c := range b.triangles {
		for s := range 3 {
			i, j := c[s], c[(s+1)%3]
			up := i < j
			if !up {
				i, j = j, i
			}
			e, isNew := at.find(uint64(uint32(i))<<32|uint64(uint32(j)), int32(len(b.edges)))
			switch {
			case isNew:
				b.edges = append(b.edges, edge{i, j, int32(t), -1, false, up})
			case b.edges[e].b < 0:
				b.edges[e].b = int32(t)
				if b.edges[e].up == up {
					b.closed = false // one of the two is the wrong way round
				}
			default:
				crowded[e] = true // more than two triangles meet here
			}
		}
	}
	bend := float32(math.Cos(sharpBend))
	for i := range b.edges {
		e := &b.edges[i]
		if e.b < 0 {
			e.sharp, b.closed = true, false
			continue
		}
		if crowded[int32(i)] {
			e.sharp = true
			continue
		}
		p, q := b.normal(e.a), b.normal(e.b)
		e.sharp = p != q && p != [3]float32{} && q != [3]float32{} && p[0]*q[0]+p[1]*q[1]+p[2]*q[2] < bend
	}
}
