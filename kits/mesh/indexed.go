package mesh

import "dryfit/kits/geom"

// indexed is triangles by the numbers of their corners, as OBJ and 3MF store them.
// Several meshes may share them: the same part placed twice, the groups of a file.
type indexed struct {
	corners [][3]float32
	faces   [][3]uint32
	place   *transform // nil leaves the corners where they are
}

func (s *indexed) len() int { return len(s.faces) }

func (s *indexed) read(i int, buf []Triangle) error {
	for k := range buf {
		f := s.faces[i+k]
		buf[k] = Triangle{s.corners[f[0]], s.corners[f[1]], s.corners[f[2]]}
	}
	if s.place != nil {
		s.place.all(buf)
	}
	return nil
}

// transform is the 3 x 4 matrix of 3MF: a point is a row vector, and the fourth row
// is what it is moved by.
type transform [4]geom.Vec

func scaling(f float64) transform {
	return transform{{f, 0, 0}, {0, f, 0}, {0, 0, f}}
}

func (t *transform) apply(p geom.Vec) geom.Vec {
	var q geom.Vec
	for k := range q {
		q[k] = p[0]*t[0][k] + p[1]*t[1][k] + p[2]*t[2][k] + t[3][k]
	}
	return q
}

// then is t followed by u.
func (t *transform) then(u *transform) transform {
	var v transform
	for r := range v {
		p := u.apply(t[r])
		if r < 3 { // directions are not moved
			p = p.Minus(u[3])
		}
		v[r] = p
	}
	return v
}

// determinant is negative for a transform that mirrors.
func (t *transform) determinant() float64 { return t[0].Dot(t[1].Cross(t[2])) }

// all places triangles. One that mirrors turns them, so that their outside stays
// outside.
func (t *transform) all(buf []Triangle) {
	mirrors := t.determinant() < 0
	for i := range buf {
		for c := range buf[i] {
			p := t.apply(geom.Point(buf[i][c]))
			buf[i][c] = p.Single()
		}
		if mirrors {
			buf[i][1], buf[i][2] = buf[i][2], buf[i][1]
		}
	}
}
