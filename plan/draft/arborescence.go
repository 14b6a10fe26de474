package draft

import "slices"

// tie says how well one piece is fitted to another.
type tie struct {
	piece, onto int
	weight      float64 // more is better
}

// bestTree fits every piece but the root to one other, so that all hang on the root and
// the weights add up to the most: the ties chosen, by piece, -1 for the root and for what
// no tie reaches. Source: J. Edmonds, "Optimum branchings", Journal of Research of the
// National Bureau of Standards 71B (1967) 233-240.
func bestTree(pieces, root int, ties []tie) []int {
	chosen := slices.Repeat([]int{-1}, pieces)
	for i, t := range ties {
		if t.piece == root || t.piece == t.onto {
			continue
		}
		if c := chosen[t.piece]; c < 0 || t.weight > ties[c].weight {
			chosen[t.piece] = i
		}
	}
	ring := findRing(chosen, ties)
	if ring == nil {
		return chosen
	}
	// The ring becomes one piece. What enters it takes the place of the tie that it
	// makes needless, so it weighs as much less.
	in := make([]bool, pieces)
	for _, p := range ring {
		in[p] = true
	}
	one := ring[0]
	var less []tie
	var from []int // index in ties
	for i, t := range ties {
		if in[t.piece] && in[t.onto] {
			continue
		}
		if in[t.piece] {
			t.weight -= ties[chosen[t.piece]].weight
			t.piece = one
		}
		if in[t.onto] {
			t.onto = one
		}
		less, from = append(less, t), append(from, i)
	}
	inner := bestTree(pieces, root, less)
	for p, c := range inner {
		if c >= 0 {
			inner[p] = from[c]
		}
	}
	entry := inner[one]
	for _, p := range ring {
		inner[p] = chosen[p]
	}
	if entry >= 0 {
		inner[ties[entry].piece] = entry
	} else {
		inner[one] = -1 // nothing leads out of the ring
	}
	return inner
}

// findRing is a ring of pieces fitted to each other, nil if there is none.
func findRing(chosen []int, ties []tie) []int {
	seen := make([]int, len(chosen))
	for start := range chosen {
		p := start
		for seen[p] == 0 && chosen[p] >= 0 {
			seen[p] = start + 1
			p = ties[chosen[p]].onto
		}
		if chosen[p] < 0 || seen[p] != start+1 {
			continue
		}
		ring := []int{p}
		for q := ties[chosen[p]].onto; q != p; q = ties[chosen[q]].onto {
			ring = append(ring, q)
		}
		slices.Sort(ring)
		return ring
	}
	return nil
}
