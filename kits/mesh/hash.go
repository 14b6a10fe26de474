package mesh

import (
	"encoding/binary"
	"encoding/hex"
	"math"

	"github.com/zeebo/xxh3"
)

// Hash tells contents apart: equal contents have equal hashes on every machine. It
// is XXH3 of 128 bits: no two files have it in common by chance, but it does not
// withstand one who makes two on purpose.
type Hash [16]byte

func (h Hash) String() string { return hex.EncodeToString(h[:]) }

// digest collects what decides the triangles of a mesh.
type digest struct{ xxh3.Hasher }

func newDigest(format string) *digest {
	d := new(digest)
	d.text(format)
	return d
}

func (d *digest) text(s string) {
	d.number(uint64(len(s)))
	d.WriteString(s)
}

func (d *digest) number(n uint64) {
	d.Write(binary.LittleEndian.AppendUint64(nil, n))
}

func (d *digest) real(v float64) { d.number(math.Float64bits(v)) }

func (d *digest) sum() Hash { return d.Sum128().Bytes() }

// triangles takes in triangles bit by bit.
func (d *digest) triangles(block []Triangle) {
	var raw [36 * 64]byte
	for len(block) > 0 {
		n := min(len(block), 64)
		for i := range block[:n] {
			for c, p := range block[i] {
				for k, v := range p {
					binary.LittleEndian.PutUint32(raw[36*i+12*c+4*k:], math.Float32bits(v))
				}
			}
		}
		d.Write(raw[:36*n])
		block = block[n:]
	}
}
