package blocking

import "cmp"

// What sample lines say of a pair of pieces, one with the lower number and one
// with the higher. Where they overlap, the one whose middle is further along
// counts as above.
const (
	upper   uint8 = 1 << iota // the higher number lies above: it keeps the lower from leaving along w
	under                     // the lower number lies above
	clashes                   // they overlap by more than the depth that counts as touching
	upperOrClash
	underOrClash

	allBits = upper | under | clashes | upperOrClash | underOrClash
)

// withClash completes bits: two pieces that overlap block each other no matter
// which is above.
func withClash(bits uint8) uint8 {
	if bits&(upper|clashes) != 0 {
		bits |= upperOrClash
	}
	if bits&(under|clashes) != 0 {
		bits |= underOrClash
	}
	return bits
}

// pairObservation is what is kept of a pair.
type pairObservation struct {
	lo, hi int32
	bits   uint8 // what is accepted
	deep   float64
	volume float64 // mm3
	touch  float64 // mm2, times the cosine
	gap    float64 // mm, times touch
	near   float64
}

func (s *pairObservation) any() bool {
	return s.bits != 0 || s.touch > 0 || s.near >= 0 || s.volume > 0
}

// byPair compares the pairs of observations.
func byPair(a, b pairObservation) int {
	return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
}
