package blocking

import (
	"cmp"
	"slices"

	"dryfit/kits/mesh"
)

// Known is what was measured of pieces, in a form that can be stored. It is valid
// for any piece with the same content, among any others, as long as the settings
// are the same.
type Known struct {
	Pitch, Depth, Touch float64
	Near                float64 // mm up to which gaps were measured
	Pieces              []mesh.Hash
	Axes                []KnownAxis
}

// KnownAxis is what was seen along one axis.
type KnownAxis struct {
	Dir     [3]float64
	Contact bool
	Broken  []int // of each piece: lines along which it is not closed
	Pairs   []KnownPair
	Checked []KnownPair // refined along moves; only Bits is used
}

// KnownPair is what was seen of two pieces, by their numbers in Known.
type KnownPair struct {
	Lo, Hi                         int
	Bits                           uint8
	Deep, Volume, Touch, Gap, Near float64
}

// Valid reports whether the pair's numbers are within the given number of pieces.
func (p *KnownPair) Valid(pieces int) bool {
	return 0 <= p.Lo && p.Lo < p.Hi && p.Hi < pieces && p.Bits&^allBits == 0
}

// Known returns what was measured so far.
func (m *Model) Known() *Known {
	k := &Known{Pitch: m.Pitch, Depth: m.Depth, Touch: m.Touch, Near: m.near}
	for _, p := range m.Pieces {
		k.Pieces = append(k.Pieces, p.Hash)
	}
	for i := range m.axes {
		a := &m.axes[i]
		ka := KnownAxis{Dir: a.dir, Contact: a.contact, Broken: a.broken}
		for _, s := range a.list {
			ka.Pairs = append(ka.Pairs, KnownPair{int(s.lo), int(s.hi), s.bits, s.deep, s.volume, s.touch, s.gap, s.near})
		}
		for p, bits := range a.checked {
			ka.Checked = append(ka.Checked, KnownPair{Lo: int(p[0]), Hi: int(p[1]), Bits: bits})
		}
		slices.SortFunc(ka.Checked, func(a, b KnownPair) int {
			return cmp.Or(cmp.Compare(a.Lo, b.Lo), cmp.Compare(a.Hi, b.Hi))
		})
		k.Axes = append(k.Axes, ka)
	}
	return k
}

// matched says which pieces of the model are known.
type matched struct {
	known *Known
	now   []int // piece of Known -> of the model, or -1
	fresh []bool
}

// match finds the pieces that are known. Pieces with the same content cannot be
// distinguished, so none of them counts as known.
func (m *Model) match(k *Known) {
	if k == nil || k.Pitch != m.Pitch || k.Depth != m.Depth || k.Touch != m.Touch || k.Near != m.near {
		return
	}
	number := map[mesh.Hash]int{}
	for i, h := range k.Pieces {
		if _, twice := number[h]; twice {
			i = -1
		}
		number[h] = i
	}
	count := map[mesh.Hash]int{}
	for _, p := range m.Pieces {
		count[p.Hash]++
	}
	x := &matched{known: k, now: make([]int, len(k.Pieces)), fresh: make([]bool, len(m.Pieces))}
	for i := range x.now {
		x.now[i] = -1
	}
	for p, piece := range m.Pieces {
		i, found := number[piece.Hash]
		if !found || i < 0 || count[piece.Hash] > 1 || piece.Hash == (mesh.Hash{}) {
			x.fresh[p] = piece.Len() > 0
			continue
		}
		x.now[i] = p
	}
	m.known = x
}

// remember fills an axis with what is known of it, and marks the pieces that must
// be measured; nil means all.
func (m *Model) remember(a *axis) (old []pairObservation, only []bool) {
	a.broken = make([]int, len(m.Pieces))
	if m.known == nil {
		return nil, nil
	}
	i := slices.IndexFunc(m.known.known.Axes, func(k KnownAxis) bool { return k.Dir == a.dir && (k.Contact || !a.contact) })
	if i < 0 {
		return nil, nil
	}
	k := &m.known.known.Axes[i]
	now := m.known.now
	for p, n := range k.Broken {
		if now[p] >= 0 {
			a.broken[now[p]] = n
		}
	}
	for _, p := range k.Pairs {
		lo, hi, bits := now[p.Lo], now[p.Hi], p.Bits
		if lo < 0 || hi < 0 {
			continue
		}
		if lo > hi {
			lo, hi, bits = hi, lo, swapped(bits)
		}
		old = append(old, pairObservation{int32(lo), int32(hi), bits, p.Deep, p.Volume, p.Touch, p.Gap, p.Near})
	}
	for _, p := range k.Checked {
		lo, hi, bits := now[p.Lo], now[p.Hi], p.Bits
		if lo < 0 || hi < 0 {
			continue
		}
		if lo > hi {
			lo, hi, bits = hi, lo, swapped(bits)
		}
		a.checked[[2]int32{int32(lo), int32(hi)}] |= bits
	}
	return old, m.known.fresh
}

// swapped is bits with the two pieces swapped.
func swapped(bits uint8) uint8 {
	out := bits & clashes
	for from, to := range map[uint8]uint8{upper: under, under: upper, upperOrClash: underOrClash, underOrClash: upperOrClash} {
		if bits&from != 0 {
			out |= to
		}
	}
	return out
}
