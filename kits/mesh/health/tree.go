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

// around is the box around all corners.
func (s *surface) around() box3 {
	all := emptyBox
	for i := range s.corners {
		all.take(&s.corners[i])
	}
	return all
}

// box is that of a triangle.
func (s *surface) box(face uint32) (b box3) {
	f := &s.faces[face]
	p, q, r := &s.corners[f[0]], &s.corners[f[1]], &s.corners[f[2]]
	for k := range 3 {
		b.min[k], b.max[k] = min(p[k], q[k], r[k]), max(p[k], q[k], r[k])
	}
	return b
}

// leafSize is how many triangles a leaf of the tree holds.
const leafSize = 16

// tree finds triangles by position. It sorts them along a Morton curve (G. M.
// Morton, 1966) and keeps the boxes of every 16 of them, of every two of those,
// and so on: node n has the halves 2n and 2n+1, the root is node 1, and leaf l is
// node leaves+l.
type tree struct {
	ctx    context.Context // ends a search early; its result is not used then
	s      *surface
	order  []uint32 // numbers of triangles along the curve
	packed []packed // their boxes
	nodes  []packed
	boxes  []box3 // of the nodes, exactly; see exactly
	leaves int    // a power of two; the last ones may be empty
}

func newTree(ctx context.Context, s *surface) *tree {
	all := s.around()
	t := &tree{ctx: ctx, s: s, order: mortonOrder(s, &all), leaves: 1}
	for t.leaves*leafSize < len(t.order) {
		t.leaves *= 2
	}
	lattice := newLattice(&all)
	words := make([]uint64, len(s.corners))
	for i := range words {
		words[i] = lattice.word(&s.corners[i])
	}
	t.packed = make([]packed, len(t.order))
	t.nodes = make([]packed, 2*t.leaves)
	for l := range t.leaves {
		leaf := noBox
		first, end := t.leaf(l)
		for i := first; i < end; i++ {
			f := &s.faces[t.order[i]]
			b := span(words[f[0]], words[f[1]], words[f[2]])
			t.packed[i] = b
			leaf = leaf.join(b)
		}
		t.nodes[t.leaves+l] = leaf
	}
	for n := t.leaves - 1; n > 0; n-- {
		t.nodes[n] = t.nodes[2*n].join(t.nodes[2*n+1])
	}
	return t
}

// exactly works out the exact boxes of the nodes, which rays need.
func (t *tree) exactly() {
	if t.boxes != nil {
		return
	}
	t.boxes = make([]box3, 2*t.leaves)
	for l := range t.leaves {
		leaf := &t.boxes[t.leaves+l]
		*leaf = emptyBox
		first, end := t.leaf(l)
		for _, f := range t.order[first:end] {
			b := t.s.box(f)
			leaf.join(&b)
		}
	}
	for n := t.leaves - 1; n > 0; n-- {
		t.boxes[n] = t.boxes[2*n]
		t.boxes[n].join(&t.boxes[2*n+1])
	}
}

// leaf is where the triangles of a leaf are in the order.
func (t *tree) leaf(l int) (first, end int) {
	return min(l*leafSize, len(t.order)), min((l+1)*leafSize, len(t.order))
}

// mortonBits is how finely an axis is divided. The number of a triangle takes the
// rest of 64 bits.
const (
	mortonBits = 12
	numberBits = 64 - 3*mortonBits
)

// mortonOrder sorts triangles along the curve by their middles.
func mortonOrder(s *surface, all *box3) []uint32 {
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

// last is the last leaf below a node.
func (t *tree) last(n int) int {
	below := bits.Len(uint(t.leaves)) - bits.Len(uint(n))
	return (n+1)<<below - 1 - t.leaves
}
