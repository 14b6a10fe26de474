package health

import (
	"context"
	"math"
	"math/bits"
)

// box3 is a box along the axes.
type box3 struct{ min, max [3]float32 }

var emptyBox = box3{[3]float32{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, [3]float32{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}}

func (b *box3) take(p *[3]float32) {
	for k, v := range p {
		b.min[k], b.max[k] = min(b.min[k], v), max(b.max[k], v)
	}
}

func (b *box3) join(o *box3) {
	for k := range 3 {
		b.min[k], b.max[k] = min(b.min[k], o.min[k]), max(b.max[k], o.max[k])
	}
}

// overlaps reports whether boxes share more than their rims.
func (b *box3) overlaps(o *box3) bool {
	return b.min[0] < o.max[0] && o.min[0] < b.max[0] &&
		b.min[1] < o.max[1] && o.min[1] < b.max[1] &&
		b.min[2] < o.max[2] && o.min[2] < b.max[2]
}

// box is that of a triangle, no thinner than thin along any axis: triangles in one plane
// across an axis share more than the rims of their boxes if they cover each other, and
// neighbours in it do not.
func (s *surface) box(b *box3, face uint32, thin float32) {
	f := &s.faces[face]
	p, q, r := &s.corners[f[0]], &s.corners[f[1]], &s.corners[f[2]]
	for k := range 3 {
		low, high := min(p[k], q[k], r[k]), max(p[k], q[k], r[k])
		if high-low < thin {
			low, high = low-thin, high+thin
		}
		b.min[k], b.max[k] = low, high
	}
}

// leafSize is how many triangles a leaf of the tree holds.
const leafSize = 8

// tree finds triangles by position. It sorts them along a Morton curve (G. M.
// Morton, 1966) and keeps the boxes of every 8 of them, of every two of those,
// and so on: node n has the halves 2n and 2n+1, the root is node 1, and leaf l is
// node leaves+l.
type tree struct {
	ctx    context.Context // ends a search early; its result is not used then
	s      *surface
	order  []uint32 // numbers of triangles along the curve
	boxes  []box3
	leaves int     // a power of two; the last ones may be empty
	thin   float32 // the least thickness of a box
}

func newTree(ctx context.Context, s *surface, thin float64) *tree {
	t := &tree{ctx: ctx, s: s, order: mortonOrder(s), thin: float32(thin)}
	t.leaves = 1
	for t.leaves*leafSize < len(t.order) {
		t.leaves *= 2
	}
	t.boxes = make([]box3, 2*t.leaves)
	for l := range t.leaves {
		all := emptyBox
		for _, f := range t.leaf(l) {
			var b box3
			s.box(&b, f, t.thin)
			all.join(&b)
		}
		t.boxes[t.leaves+l] = all
	}
	for n := t.leaves - 1; n > 0; n-- {
		t.boxes[n] = t.boxes[2*n]
		t.boxes[n].join(&t.boxes[2*n+1])
	}
	return t
}

func (t *tree) leaf(l int) []uint32 {
	return t.order[min(l*leafSize, len(t.order)):min((l+1)*leafSize, len(t.order))]
}

// mortonBits is how finely an axis is divided. The number of a triangle takes the
// rest of 64 bits.
const (
	mortonBits = 12
	numberBits = 64 - 3*mortonBits
)

// mortonOrder sorts triangles along the curve by their middles.
func mortonOrder(s *surface) []uint32 {
	all := emptyBox
	for i := range s.corners {
		all.take(&s.corners[i])
	}
	var per [3]float32
	for k := range per {
		if d := all.max[k] - all.min[k]; d > 0 {
			per[k] = (1<<mortonBits - 1) / (3 * d)
		}
	}
	keys := make([]uint64, len(s.faces))
	for i, f := range s.faces {
		key := uint64(0)
		for k := range 3 {
			v := (s.corners[f[0]][k] - all.min[k]) + (s.corners[f[1]][k] - all.min[k]) + (s.corners[f[2]][k] - all.min[k])
			key |= spread(uint64(v*per[k])) << k
		}
		keys[i] = key<<numberBits | uint64(i)
	}
	keys = sortKeys(keys)
	order := make([]uint32, len(keys))
	for i, k := range keys {
		order[i] = uint32(k & (1<<numberBits - 1))
	}
	return order
}

// spread puts two zeros between the bits of a number below 2^12.
func spread(v uint64) uint64 {
	v = (v | v<<16) & 0x00000000FF0000FF
	v = (v | v<<8) & 0x000000F00F00F00F
	v = (v | v<<4) & 0x00000C30C30C30C3
	return (v | v<<2) & 0x0000249249249249
}

// sortKeys sorts by the upper bits, digit by digit. The sort is stable.
func sortKeys(keys []uint64) []uint64 {
	const digit = 12
	other := make([]uint64, len(keys))
	for shift := numberBits; shift < 64; shift += digit {
		var start [1 << digit]int
		for _, k := range keys {
			start[k>>shift&(1<<digit-1)]++
		}
		at := 0
		for d, n := range start {
			start[d] = at
			at += n
		}
		for _, k := range keys {
			d := k >> shift & (1<<digit - 1)
			other[start[d]] = k
			start[d]++
		}
		keys, other = other, keys
	}
	return keys
}

// depth is how many levels the tree has below its root.
func (t *tree) depth() int { return bits.TrailingZeros(uint(t.leaves)) }
