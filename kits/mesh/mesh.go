package mesh

import "dryfit/kits/geom"

// Triangle is three corners in mm, counter-clockwise seen from outside.
type Triangle [3][3]float32

// Mesh is the surface of one piece, in its position in the model. Any number of
// goroutines may read it.
type Mesh struct {
	Name   string // of the piece: the object's name in the file, or the file's without its ending
	File   string // as it was opened; empty for one made in memory
	Hash   Hash   // of the content that decides the triangles
	Turned bool   // it was inside out in the file; its triangles are read flipped
	Unread string // what defines the shape besides triangles and was not read
	Shape

	src Source
}

// Shape is what one pass over the triangles measures.
type Shape struct {
	geom.Box          // mm
	Volume   float64  // mm3, not negative; unreliable for a surface that is not closed
	Area     float64  // mm2
	Centre   geom.Vec // of the volume, or of the box if there is no volume
}

// BlockSize is a good number of triangles to read at a time: large enough to make
// calls cheap, small enough to stay in the processor's cache.
const BlockSize = 4096

// Len is the number of triangles.
func (m *Mesh) Len() int { return m.src.Len() }

// Read fills buf with triangles from the i-th on and returns how many it read.
// The error comes from reading the file again, or says that the file changed
// since it was opened.
func (m *Mesh) Read(i int, buf []Triangle) (int, error) {
	n := min(len(buf), m.Len()-i)
	if n <= 0 {
		return 0, nil
	}
	buf = buf[:n]
	if err := m.src.Read(i, buf); err != nil {
		return 0, err
	}
	if m.Turned {
		for k := range buf {
			buf[k][1], buf[k][2] = buf[k][2], buf[k][1]
		}
	}
	return n, nil
}

// Blocks calls do with all triangles in order, a block at a time. do must not keep
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
	return Measure(name, Soup(list), "triangles", 0)
}

// Measure makes the single pass over a source in memory, which is mesh number n
// in a file of the named format.
func Measure(name string, src Source, format string, n int) (*Mesh, error) {
	m := &Mesh{Name: name, src: src}
	var first [1]Triangle
	if _, err := m.Read(0, first[:]); err != nil {
		return nil, err
	}
	t := NewTally(first[0][0], 0)
	d := NewDigest(format)
	d.Text(name)
	d.Number(uint64(n))
	err := m.Blocks(func(_ int, block []Triangle) error {
		d.triangles(block)
		return t.Add(block)
	})
	if err != nil {
		return nil, err
	}
	return Measured(name, src, &t, d.Sum()), nil
}

// Measured is the mesh of a source that its reader has already measured.
func Measured(name string, src Source, t *Tally, hash Hash) *Mesh {
	m := &Mesh{Name: name, Hash: hash, src: src}
	m.Shape, m.Turned = t.shape()
	return m
}

// Moved is the mesh moved by a distance. It reads the same file.
func (m *Mesh) Moved(by geom.Vec) *Mesh {
	out := *m
	out.Box = m.Box.Moved(by)
	out.Centre = m.Centre.Plus(by)
	d := NewDigest("moved")
	d.Write(m.Hash[:])
	for _, v := range by {
		d.Real(v)
	}
	out.Hash = d.Sum()
	out.src = &moved{m.src, by}
	return &out
}

// Scaled is the mesh with every length multiplied by a factor above 0, about the origin.
// It reads the same file.
func (m *Mesh) Scaled(by float64) *Mesh {
	out := *m
	out.Box = geom.Box{Min: m.Min.Times(by), Max: m.Max.Times(by)}
	out.Centre = m.Centre.Times(by)
	out.Area *= by * by
	out.Volume *= by * by * by
	d := NewDigest("scaled")
	d.Write(m.Hash[:])
	d.Real(by)
	out.Hash = d.Sum()
	out.src = &scaled{m.src, by}
	return &out
}
