package stl

import (
	"bufio"
	"encoding/binary"
	"io"
	"math"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Write writes triangles as binary STL. The header is blank: programs take one
// that begins with "solid" for a text file.
func Write(w io.Writer, list []mesh.Triangle) error {
	b := bufio.NewWriterSize(w, 1<<16)
	head := make([]byte, 84)
	binary.LittleEndian.PutUint32(head[80:], uint32(len(list)))
	if _, err := b.Write(head); err != nil {
		return err
	}
	var rec [50]byte
	for i := range list {
		t := &list[i]
		p, q, r := geom.Point(t[0]), geom.Point(t[1]), geom.Point(t[2])
		n := q.Minus(p).Cross(r.Minus(p))
		if l := n.Length(); l > 0 {
			n = geom.Vec{n[0] / l, n[1] / l, n[2] / l}
		}
		for k := range 3 {
			binary.LittleEndian.PutUint32(rec[4*k:], math.Float32bits(float32(n[k])))
			for c := range 3 {
				binary.LittleEndian.PutUint32(rec[12+12*c+4*k:], math.Float32bits(t[c][k]))
			}
		}
		if _, err := b.Write(rec[:]); err != nil {
			return err
		}
	}
	return b.Flush()
}
