package mesh

import "dryfit/kits/geom"

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

	src  source
	lack string // what the file says of its shape beside the triangles, and was not read
}

// Shape is what one pass over the triangles tells.
type Shape struct {
	geom.Box          // mm
	Volume   float64  // mm3, not negative; it means little for a surface that is not closed
	Area     float64  // mm2
	Centre   geom.Vec // of the volume, or of the box if there is no volume
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
// number is not finite, or too large.
func FromTriangles(name string, list []Triangle) (*Mesh, error) {
	m := &Mesh{Name: name, src: soup(list)}
	if err := m.hold("triangles", 0); err != nil {
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
