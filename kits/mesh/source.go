package mesh

import (
	"io"

	"dryfit/kits/geom"
)

// Source provides the triangles of a mesh. Any number of goroutines may read it.
type Source interface {
	Len() int
	// Read fills buf from the i-th triangle on; there are at least len(buf) left.
	Read(i int, buf []Triangle) error
}

// opener is a source that is read faster while it is open.
type opener interface {
	// Open is the source, to be read until it is closed.
	Open() (Source, io.Closer, error)
}

// Open is the mesh, to be read piece by piece until it is closed: its file is opened
// once only.
func (m *Mesh) Open() (*Mesh, io.Closer, error) {
	src, ok := m.src.(opener)
	if !ok {
		return m, io.NopCloser(nil), nil
	}
	open := *m
	var err error
	var file io.Closer
	open.src, file, err = src.Open()
	return &open, file, err
}

// Soup is triangles in memory.
type Soup []Triangle

func (s Soup) Len() int { return len(s) }

func (s Soup) Read(i int, buf []Triangle) error {
	copy(buf, s[i:])
	return nil
}

// Indexed is triangles by the numbers of their corners, as OBJ and 3MF store them.
// Several meshes may share corners and faces: the same part placed twice, the groups of
// a file.
type Indexed struct {
	Corners [][3]float32
	Faces   [][3]uint32
	Place   *geom.Transform // nil leaves the corners where they are
}

func (s *Indexed) Len() int { return len(s.Faces) }

func (s *Indexed) Read(i int, buf []Triangle) error {
	mirrors := s.mirrors()
	for k := range buf {
		f := s.Faces[i+k]
		if mirrors {
			f[1], f[2] = f[2], f[1]
		}
		for c, n := range f {
			buf[k][c] = s.corner(n)
		}
	}
	return nil
}

// mirrors reports that triangles have to be flipped for their outside to stay
// outside.
func (s *Indexed) mirrors() bool { return s.Place != nil && s.Place.Determinant() < 0 }

func (s *Indexed) corner(n uint32) [3]float32 {
	if s.Place == nil {
		return s.Corners[n]
	}
	return s.Place.Apply(geom.Point(s.Corners[n])).Single()
}

// Numbered lists the corners in use and the triangles by corner number, as in the
// file. It gives no triangles for a mesh whose file has no such numbers.
func (m *Mesh) Numbered() (corners [][3]float32, faces [][3]uint32) {
	src, ok := m.src.(*Indexed)
	if !ok {
		return nil, nil
	}
	number := make([]uint32, len(src.Corners)) // of the corners in use, plus one
	faces = make([][3]uint32, len(src.Faces))
	turned := m.Turned != src.mirrors()
	for i, f := range src.Faces {
		for k, c := range f {
			if number[c] == 0 {
				corners = append(corners, src.corner(c))
				number[c] = uint32(len(corners))
			}
			f[k] = number[c] - 1
		}
		if turned {
			f[1], f[2] = f[2], f[1]
		}
		faces[i] = f
	}
	return corners, faces
}

// scaled is the triangles of another source, scaled.
type scaled struct {
	Source
	by float64
}

func (s *scaled) Read(i int, buf []Triangle) error {
	if err := s.Source.Read(i, buf); err != nil {
		return err
	}
	Scale(buf, s.by)
	return nil
}

// moved is the triangles of another source, moved.
type moved struct {
	Source
	by geom.Vec
}

func (s *moved) Read(i int, buf []Triangle) error {
	if err := s.Source.Read(i, buf); err != nil {
		return err
	}
	for i := range buf {
		for c, p := range buf[i] {
			buf[i][c] = geom.Point(p).Plus(s.by).Single()
		}
	}
	return nil
}

// Scale multiplies the coordinates of triangles by a factor.
func Scale(list []Triangle, by float64) {
	for i := range list {
		for c := range list[i] {
			for k, v := range list[i][c] {
				list[i][c][k] = float32(float64(v) * by)
			}
		}
	}
}
