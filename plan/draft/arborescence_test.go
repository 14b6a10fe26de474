package draft

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits/kitstest"
)

// The best tree of random ties weighs as much as the best of all trees there are.
func TestBestTree(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 1))
	for range kitstest.Rounds(t, 300, 3000) {
		n := 2 + r.IntN(5)
		var ties []tie
		for p := range n {
			for q := range n {
				if p != q && r.IntN(3) > 0 {
					ties = append(ties, tie{p, q, float64(r.IntN(50))})
				}
			}
		}
		chosen := bestTree(n, 0, ties)
		want := heaviest(n, ties, make([]int, n), 1)
		if math.IsInf(want, -1) {
			continue // not all pieces hang together
		}
		got := 0.0
		onto := slices.Repeat([]int{0}, n)
		for p := 1; p < n; p++ {
			if chosen[p] < 0 || ties[chosen[p]].piece != p {
				t.Fatalf("piece %d of %v is fitted by tie %d", p, ties, chosen[p])
			}
			got += ties[chosen[p]].weight
			onto[p] = ties[chosen[p]].onto
		}
		if !hangs(onto) || got != want {
			t.Fatalf("ties %v: the tree %v weighs %g, want %g", ties, onto, got, want)
		}
	}
}

// heaviest tries every tree in which the pieces from one on are fitted in all ways.
func heaviest(n int, ties []tie, onto []int, piece int) float64 {
	if piece == n {
		if hangs(onto) {
			return 0
		}
		return math.Inf(-1)
	}
	best := math.Inf(-1)
	for _, t := range ties {
		if t.piece == piece {
			onto[piece] = t.onto
			best = max(best, t.weight+heaviest(n, ties, onto, piece+1))
		}
	}
	return best
}

// hangs reports whether all pieces lead to the first.
func hangs(onto []int) bool {
	for p := range onto {
		q := p
		for range onto {
			q = onto[q]
			if q == 0 {
				break
			}
		}
		if q != 0 {
			return false
		}
	}
	return true
}
