package health

import (
	"fmt"
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// maxHealth is the most triangles that can be examined: each takes about 50 bytes of
// memory.
const maxHealth = 60_000_000

// surface is the triangles of a mesh by corner number. Triangles with two equal
// corners are left out: they have no area.
type surface struct {
	corners   [][3]float32
	faces     [][3]uint32
	collapsed int        // triangles left out
	collapse  [3]float32 // where one is
	joined    bool       // some corners were joined to others, and are in use no more
}

func (s *surface) point(corner uint32) geom.Vec { return geom.Point(s.corners[corner]) }

func (s *surface) triangle(face int) (p [3]geom.Vec) {
	for k, c := range s.faces[face] {
		p[k] = s.point(c)
	}
	return p
}

func (s *surface) middle(face int) geom.Vec {
	p := s.triangle(face)
	return p[0].Plus(p[1]).Plus(p[2]).Times(1.0 / 3)
}

// used counts the corners of triangles that were kept.
func (s *surface) used() int {
	if s.collapsed == 0 && !s.joined {
		return len(s.corners)
	}
	seen, n := make([]bool, len(s.corners)), 0
	for _, f := range s.faces {
		for _, c := range f {
			if !seen[c] {
				seen[c] = true
				n++
			}
		}
	}
	return n
}

func (s *surface) add(f [3]uint32) {
	if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
		s.collapsed++
		s.collapse = s.corners[f[0]]
		return
	}
	s.faces = append(s.faces, f)
}

// welded gives one number to all corners at the same position, to the last bit
// except the sign of zero. This connects STL, which has no numbers.
func welded(m *mesh.Mesh) (*surface, error) {
	n := m.Len()
	if n > maxHealth {
		return nil, fmt.Errorf("too many triangles to examine: %d; the limit is %d; make the mesh coarser", n, maxHealth)
	}
	w := newWelder(n/2 + 16)
	s := &surface{faces: make([][3]uint32, 0, n)}
	err := m.Blocks(func(_ int, block []mesh.Triangle) error {
		for i := range block {
			t := &block[i]
			f := [3]uint32{w.number(&t[0]), w.number(&t[1]), w.number(&t[2])}
			s.corners = w.corners
			s.add(f)
		}
		return nil
	})
	s.corners = w.corners
	return s, err
}

// numbered takes the corner numbers from a 3MF or OBJ file. It gives nothing for
// a mesh without them.
func numbered(m *mesh.Mesh) *surface {
	if m.Len() > maxHealth {
		return nil
	}
	corners, faces := m.Numbered()
	if faces == nil {
		return nil
	}
	s := &surface{corners: corners, faces: faces[:0]}
	for _, f := range faces {
		s.add(f)
	}
	return s
}

// welder numbers positions. It is a hash table with open addressing.
type welder struct {
	corners [][3]float32
	slots   []uint32 // numbers plus one
	shift   uint
}

func newWelder(expect int) *welder {
	bits := uint(8)
	for 1<<bits < 2*expect {
		bits++
	}
	return &welder{corners: make([][3]float32, 0, expect), slots: make([]uint32, 1<<bits), shift: 64 - bits}
}

func (w *welder) number(p *[3]float32) uint32 {
	q := [3]float32{p[0] + 0, p[1] + 0, p[2] + 0} // -0 + 0 is 0
	i := w.slot(&q)
	for ; w.slots[i] != 0; i = (i + 1) & uint64(len(w.slots)-1) {
		if w.corners[w.slots[i]-1] == q {
			return w.slots[i] - 1
		}
	}
	w.corners = append(w.corners, q)
	w.slots[i] = uint32(len(w.corners))
	if 10*len(w.corners) > 7*len(w.slots) {
		w.grow()
	}
	return uint32(len(w.corners) - 1)
}

// slot is where the search for a position starts. The constants are random odd
// numbers.
func (w *welder) slot(p *[3]float32) uint64 {
	h := uint64(math.Float32bits(p[0]))*0x9E3779B97F4A7C15 ^ uint64(math.Float32bits(p[1]))*0xC2B2AE3D27D4EB4F ^ uint64(math.Float32bits(p[2]))*0x165667B19E3779F9
	h ^= h >> 29
	return h * 0xBF58476D1CE4E5B9 >> w.shift
}

func (w *welder) grow() {
	w.slots = make([]uint32, 2*len(w.slots))
	w.shift--
	for n := range w.corners {
		i := w.slot(&w.corners[n])
		for w.slots[i] != 0 {
			i = (i + 1) & uint64(len(w.slots)-1)
		}
		w.slots[i] = uint32(n) + 1
	}
}
