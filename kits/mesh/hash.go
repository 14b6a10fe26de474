package mesh

import (
	"encoding/binary"
	"encoding/hex"
	"math"

	"github.com/zeebo/xxh3"
)

// Hash identifies content: equal contents have equal hashes on every machine. It
// is 128-bit XXH3: files do not share it by chance, but it is not secure against
// files made to collide.
type Hash [16]byte

func (h Hash) String() string { return hex.EncodeToString(h[:]) }

// Digest hashes what decides the triangles of a mesh.
type Digest struct{ xxh3.Hasher }

// NewDigest starts with the name of the file format.
func NewDigest(format string) *Digest {
	d := new(Digest)
	d.Text(format)
	return d
}

// Text adds a text with its length.
func (d *Digest) Text(s string) {
	d.Number(uint64(len(s)))
	d.WriteString(s)
}

// Number adds an integer.
func (d *Digest) Number(n uint64) {
	d.Write(binary.LittleEndian.AppendUint64(nil, n))
}

// Real adds a number bit by bit.
func (d *Digest) Real(v float64) { d.Number(math.Float64bits(v)) }

// Sum is the hash of all that was added.
func (d *Digest) Sum() Hash { return d.Sum128().Bytes() }

// triangles adds triangles bit by bit.
func (d *Digest) triangles(block []Triangle) {
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
