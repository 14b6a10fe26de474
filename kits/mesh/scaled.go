package mesh

import "dryfit/kits/geom"

// Scaled is the mesh with every length by times as long, about the origin. It reads the
// same file. by must be more than 0.
func (m *Mesh) Scaled(by float64) *Mesh {
	out := *m
	out.Box = geom.Box{Min: m.Min.Times(by), Max: m.Max.Times(by)}
	out.Centre = m.Centre.Times(by)
	out.Area *= by * by
	out.Volume *= by * by * by
	d := newDigest("scaled")
	d.Write(m.Hash[:])
	d.real(by)
	out.Hash = d.sum()
	out.src = &scaledSource{m.src, by}
	return &out
}

// scaledSource gives out the triangles of another, scaled.
type scaledSource struct {
	source
	by float64
}

func (s *scaledSource) read(i int, buf []Triangle) error {
	if err := s.source.read(i, buf); err != nil {
		return err
	}
	for t := range buf {
		for c := range buf[t] {
			for k := range buf[t][c] {
				buf[t][c][k] = float32(float64(buf[t][c][k]) * s.by)
			}
		}
	}
	return nil
}
