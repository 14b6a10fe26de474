package health

import (
	"math/rand/v2"
	"testing"
)

// Packed boxes overlap where the boxes do, and not where they are apart or only touch; in
// between is what a step of the lattice decides. Thin boxes in one plane overlap.
func TestPackedBoxes(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 9))
	all := box3{[3]float32{-50, 100, 3}, [3]float32{70, 700, 3.5}}
	l := newLattice(&all)
	random := func() (b box3) {
		for k := range 3 {
			d := all.max[k] - all.min[k]
			b.min[k] = all.min[k] + 0.9*d*r.Float32()
			b.max[k] = min(b.min[k]+d*0.5*r.Float32(), all.max[k])
		}
		return b
	}
	pack := func(b box3) packed { return span(l.word(&b.min), l.word(&b.max), l.word(&b.min)) }
	overlap, touch, thin := 0, 0, 0
	for n := range 100_000 {
		a, b := random(), random()
		switch k := r.IntN(3); n % 3 {
		case 1: // side by side
			b.min[k], b.max[k] = a.max[k], max(a.max[k], b.max[k])
		case 2: // in one plane
			b.max[k] = a.min[k]
			b.min[k], a.max[k] = a.min[k], a.min[k]
		}
		surely, apart, flat := true, false, false
		for k := range 3 {
			step := (all.max[k] - all.min[k]) / (1 << laneBits)
			common := min(a.max[k], b.max[k]) - max(a.min[k], b.min[k])
			plane := a.max[k] == a.min[k] && b.max[k] == b.min[k] && a.min[k] == b.min[k]
			flat = flat || plane
			surely = surely && (plane || common > 2*step)
			apart = apart || common <= 0 && a.max[k]-a.min[k] > 2*step && b.max[k]-b.min[k] > 2*step
		}
		got := pack(a).overlaps(pack(b))
		if surely && !got || apart && got {
			t.Fatalf("%v and %v: overlap %v", a, b, got)
		}
		switch {
		case surely && flat:
			thin++
		case surely:
			overlap++
		case apart && n%3 == 1:
			touch++
		}
	}
	if overlap < 1000 || touch < 1000 || thin < 1000 {
		t.Errorf("only %d that overlap, %d that touch and %d in one plane", overlap, touch, thin)
	}
}
