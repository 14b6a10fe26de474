package blocking

import (
	"cmp"
	"slices"
)

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

// tally is what was gathered of a pair. A single sample line proves nothing: the
// walls of a peg and its hole may overlap by a hair. It takes a square of four
// neighbouring lines that agree, or else the refinement.
type tally struct {
	lo, hi int32
	done   uint8   // four neighbouring lines agree
	single uint8   // at least one line says so
	tiles  []int32 // tiles of the refinement in which single lines say so
	deep   float64 // greatest overlap along the normal, mm
	volume int64   // of the overlap: sum of lengths, in depth codes
	touch  int64   // touching: sum of cosines, in 255ths of a line
	gap    int64   // touching: sum of gaps times cosines, in billionths of a mm
	near   float64 // smallest gap seen, mm; negative if none was

	// Bits of the line above this one in the row before, and of this and the line
	// before it together with those above them.
	above, pair         uint8
	aboveAt, pairAtLine int32
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

// seen is what a view says. Sums are of integers, so that they do not depend on
// how the work was shared.
func (s *tally) seen(v *view) pairObservation {
	cell := v.pitch * v.pitch
	return pairObservation{s.lo, s.hi, s.done, s.deep, float64(s.volume) * v.step * cell,
		float64(s.touch) / 255 * cell, float64(s.gap) / 1e9 * cell, s.near}
}

func (s *pairObservation) any() bool {
	return s.bits != 0 || s.touch > 0 || s.near >= 0 || s.volume > 0
}

// byPair compares the pairs of observations.
func byPair(a, b pairObservation) int {
	return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
}

// tallies holds the tallies of one worker.
type tallies struct {
	pieces int
	slots  []tally
	dense  []int32          // index by pair, plus one
	sparse map[uint64]int32 // instead, for many pieces
}

const densePieces = 3000

func newTallies(pieces int) *tallies {
	t := &tallies{pieces: pieces}
	if pieces <= densePieces {
		t.dense = make([]int32, pieces*pieces)
	} else {
		t.sparse = map[uint64]int32{}
	}
	return t
}

// slot returns the index of the tally of a pair, lo < hi.
func (t *tallies) slot(lo, hi int32) int32 {
	if t.dense != nil {
		at := &t.dense[int(lo)*t.pieces+int(hi)]
		if *at == 0 {
			*at = t.add(lo, hi) + 1
		}
		return *at - 1
	}
	key := uint64(lo)<<32 | uint64(hi)
	i, known := t.sparse[key]
	if !known {
		i = t.add(lo, hi)
		t.sparse[key] = i
	}
	return i
}

func (t *tallies) add(lo, hi int32) int32 {
	t.slots = append(t.slots, tally{lo: lo, hi: hi, near: -1, aboveAt: -1, pairAtLine: -1})
	return int32(len(t.slots) - 1)
}

// merge adds the tallies of other workers to those of the first.
func merge(tables []*tallies) []tally {
	t := tables[0]
	for _, o := range tables[1:] {
		for i := range o.slots {
			s := &o.slots[i]
			at := &t.slots[t.slot(s.lo, s.hi)]
			at.done |= s.done
			at.single |= s.single
			at.tiles = append(at.tiles, s.tiles...)
			at.deep = max(at.deep, s.deep)
			at.volume += s.volume
			at.touch += s.touch
			at.gap += s.gap
			if s.near >= 0 && (at.near < 0 || s.near < at.near) {
				at.near = s.near
			}
		}
	}
	slices.SortFunc(t.slots, func(a, b tally) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
	})
	return t.slots
}
