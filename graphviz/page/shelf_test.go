package page

import (
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits/geom"
)

// The first box in the way is the same as by a look at each.
func TestShelf(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	box := func(most float64) geom.Box {
		var low, size geom.Vec
		for k := range 3 {
			low[k], size[k] = 300*random.Float64()-150, most*random.Float64()
		}
		return boxAt(low, size)
	}
	s := newShelf(20)
	for range 300 {
		most := 30.0
		if random.IntN(20) == 0 {
			most = 900 // takes too many cells
		}
		b := box(most)
		if want := slices.IndexFunc(s.boxes, func(o geom.Box) bool { return overlap(o, b) }); s.first(b) != want {
			t.Fatalf("box %d: %d is in its way, want %d", len(s.boxes), s.first(b), want)
		}
		s.put(b)
	}
}
