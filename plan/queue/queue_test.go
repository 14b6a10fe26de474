package queue

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// What is in the queue comes out sorted, no matter what goes in and out between.
func TestQueue(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		q := New(func(a, b int) bool { return a > b })
		var in []int
		for range rng.IntN(60) {
			if len(in) > 0 && rng.IntN(3) == 0 {
				slices.Sort(in)
				if got := q.Pop(); got != in[len(in)-1] {
					t.Fatalf("%d came out of %v", got, in)
				}
				in = in[:len(in)-1]
				continue
			}
			x := rng.IntN(40)
			in = append(in, x)
			q.Push(x)
		}
		slices.Sort(in)
		for _, want := range slices.Backward(in) {
			if got := q.Pop(); got != want {
				t.Fatalf("%d came out, want %d", got, want)
			}
		}
		if !q.Empty() {
			t.Fatal("something is left")
		}
	}
}
