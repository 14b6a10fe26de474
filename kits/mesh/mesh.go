package mesh

import (
	"fmt"
	"math"
)

// Triangle is three corners in mm, counter-clockwise seen from outside.
type Triangle [3][3]float32

// Mesh is the surface of one piece where it stands in the model. Any number of
// goroutines may read it.
type Mesh struct {
	Name   string // of the piece: the object's name in the file, or the file's without its ending
	File   string // as it was opened; empty for one made in memory
	Hash   Hash   // of the content from which the triangles follow
	Turned bool   // it was inside out in the file; its triangles are given out turned
	Shape

	src source
}

// Hash tells contents apart: equal contents have equal hashes on every machine.
type Hash [16]byte

// Shape is what one pass over the triangles tells.
type Shape struct {
	Min, Max [3]float64 // the box along the axes, mm
	Volume   float64    // mm3, not negative; it means little for a surface that is not closed
	Area     float64    // mm2
	Centre   [3]float64 // centre of the volume, or of the box if there is no volume
}

// Size is the box along the axes, in mm.
func (s *Shape) Size() [3]float64 {
	return [3]float64{s.Max[0] - s.Min[0], s.Max[1] - s.Min[1], s.Max[2] - s.Min[2]}
}

// source gives out triangles.
type source interface {
	len() int
	// read fills buf from the i-th triangle on; there are at least len(buf) left.
	read(i int, buf []Triangle) error
}

// BlockSize is a good number of triangles to read at a time: large enough that a
// call costs nothing, small enough to stay in the processor's cache.
const BlockSize = 4096

// Len is the number of triangles.
func (m *Mesh) Len() int { return m.src.len() }

// Read fills buf with triangles from the i-th on and returns how many there were
// left to give. The error is one of reading the file again, or says that the file
// has been changed since it was opened.
func (m *Mesh) Read(i int, buf []Triangle) (int, error) {
	n := min(len(buf), m.Len()-i)
	if n <= 0 {
		return 0, nil
	}
	buf = buf[:n]
	if err := m.src.read(i, buf); err != nil {
		return 0, err
	}
	if m.Turned {
		for k := range buf {
			buf[k][1], buf[k][2] = buf[k][2], buf[k][1]
		}
	}
	return n, nil
}

// Blocks calls do with all triangles, in turn, a block at a time. do must not keep
// the slice.
func (m *Mesh) Blocks(do func(first int, block []Triangle) error) error {
	buf := make([]Triangle, min(BlockSize, max(m.Len(), 1)))
	for i := 0; i < m.Len(); {
		n, err := m.Read(i, buf)
		if err != nil {
			return err
		}
		if err := do(i, buf[:n]); err != nil {
			return err
		}
		i += n
	}
	return nil
}

// FromTriangles makes a mesh in memory; it keeps the slice. The error says which
// number is not finite.
func FromTriangles(name string, list []Triangle) (*Mesh, error) {
	m := &Mesh{Name: name, src: soup(list)}
	if err := m.measure(); err != nil {
		return nil, err
	}
	return m, nil
}

// soup is triangles in memory.
type soup []Triangle

func (s soup) len() int { return len(s) }

func (s soup) read(i int, buf []Triangle) error {
	copy(buf, s[i:])
	return nil
}

// tally adds up the shape of triangles as they pass. Volumes are summed from a
// point of the mesh itself, so that nothing is lost far from the origin.
type tally struct {
	count    int
	origin   [3]float64
	min, max [3]float64
	volume   float64 // six times
	moment   [3]float64
	area     float64 // twice
}

func (t *tally) add(block []Triangle) error {
	for n := range block {
		tri := &block[n]
		if t.count == 0 {
			t.origin = point(tri[0])
			t.min, t.max = t.origin, t.origin
		}
		t.count++
		var p [3][3]float64
		for c := range tri {
			for k := range 3 {
				v := float64(tri[c][k])
				if math.IsNaN(v) || math.IsInf(v, 0) {
					return fmt.Errorf("corner %d of triangle %d is not a finite number", c+1, t.count)
				}
				t.min[k], t.max[k] = min(t.min[k], v), max(t.max[k], v)
				p[c][k] = v - t.origin[k]
			}
		}
		x := cross(p[1], p[2])
		v := dot(p[0], x)
		t.volume += v
		for k := range 3 {
			t.moment[k] += v * (p[0][k] + p[1][k] + p[2][k])
		}
		t.area += norm(cross(sub(p[1], p[0]), sub(p[2], p[0])))
	}
	return nil
}

// shape is what was added up; turned reports that the volume was negative.
func (t *tally) shape() (s Shape, turned bool) {
	s = Shape{Min: t.min, Max: t.max, Volume: t.volume / 6, Area: t.area / 2}
	for k := range 3 {
		s.Centre[k] = (t.min[k] + t.max[k]) / 2
	}
	if turned = s.Volume < 0; turned {
		s.Volume = -s.Volume
	}
	if math.Abs(t.volume) > 1e-9*t.area*norm(sub(t.max, t.min)) {
		for k := range 3 {
			s.Centre[k] = t.origin[k] + t.moment[k]/(4*t.volume)
		}
	}
	return s, turned
}

// measure makes the one pass over a mesh whose source is in memory.
func (m *Mesh) measure() error {
	var t tally
	if err := m.Blocks(func(_ int, block []Triangle) error { return t.add(block) }); err != nil {
		return err
	}
	m.Shape, m.Turned = t.shape()
	return nil
}

func point(p [3]float32) [3]float64 {
	return [3]float64{float64(p[0]), float64(p[1]), float64(p[2])}
}

func sub(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func norm(a [3]float64) float64 { return math.Sqrt(dot(a, a)) }
