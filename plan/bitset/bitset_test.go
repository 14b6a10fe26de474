package bitset

import (
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestAgainstMaps: sets do what maps of numbers do.
func TestAgainstMaps(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		n := 1 + r.IntN(200)
		a, b := New(n), New(n)
		of := [2]map[int]bool{{}, {}}
		for range r.IntN(n + 1) {
			i, k := r.IntN(n), r.IntN(2)
			[]Set{a, b}[k].Add(i)
			of[k][i] = true
		}
		or, without, within := maps.Clone(of[0]), map[int]bool{}, true
		maps.Copy(or, of[1])
		for i := range of[0] {
			if !of[1][i] {
				without[i], within = true, false
			}
		}
		for _, c := range []struct {
			set  Set
			want map[int]bool
		}{{a, of[0]}, {b, of[1]}, {a.Or(b), or}, {a.Without(b), without}} {
			want := slices.Sorted(maps.Keys(c.want))
			if got := c.set.List(); !slices.Equal(got, want) || c.set.Len() != len(want) {
				t.Fatalf("%v of length %d, want %v", got, c.set.Len(), want)
			}
			for i := range n {
				if c.set.Has(i) != c.want[i] {
					t.Fatalf("%d: %v in %v", i, c.set.Has(i), want)
				}
			}
		}
		if a.Within(b) != within {
			t.Fatalf("%v within %v: %v", a.List(), b.List(), a.Within(b))
		}
		if equal := maps.Equal(of[0], of[1]); (a.Key() == b.Key()) != equal {
			t.Fatalf("keys of %v and %v", a.List(), b.List())
		}
	}
}
