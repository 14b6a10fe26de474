package todo

import (
	"cmp"
	"math/bits"
	"slices"

	"dryfit/kits/progress"
)

// Print is what to print next: pieces, and the steps that they open together, in the
// sequence, once they are clean and painted.
type Print struct {
	Pieces []int
	Opens  []int
}

// PieceNeed is a piece that is not printed: how many steps it opens by itself, and how
// many wait for it.
type PieceNeed struct {
	Piece        int
	Opens, Waits int
}

// Bounds on what to print next: how many proposals are made, and how many sets of pieces
// are looked at for each.
const (
	maxPrints  = 8
	maxBundles = 400
)

// prints proposes what to print: again and again the pieces that open most steps for
// each piece printed, few pieces before many, early steps before late ones. A step is
// open when it, and all that has to come before it, has its pieces; what comes before it
// is that of the order, so that nothing is counted which would shut out something else.
func (t *Todo) prints() {
	needs, steps := t.printNeeds()
	t.pieceNeeds(needs)
	printed := make(set, words(len(t.p.Pieces)))
	for range maxPrints {
		bundles := bundlesOf(needs, printed)
		if len(bundles) == 0 {
			return
		}
		best := slices.MaxFunc(bundles, func(a, b bundle) int {
			return cmp.Or(cmp.Compare(a.gain*b.size, b.gain*a.size), cmp.Compare(b.size, a.size), cmp.Compare(b.first, a.first))
		})
		p := Print{Pieces: best.pieces.list()}
		for i, n := range needs {
			if !n.within(printed) && n.within(best.pieces.or(printed)) {
				p.Opens = append(p.Opens, steps[i])
			}
		}
		t.Prints = append(t.Prints, p)
		printed = printed.or(best.pieces)
	}
}

// printNeeds lists, for each step that still can be done, the pieces that must be
// printed for it and for all that has to come before it.
func (t *Todo) printNeeds() (needs []set, steps []int) {
	nodes, before := t.Rest.Chain()
	of := make([]set, len(before))
	for _, v := range nodes {
		n := make(set, words(len(t.p.Pieces)))
		for _, w := range before[v] {
			n = n.or(of[w])
		}
		if of[v] = n; v >= len(t.Rest.Done) {
			continue
		}
		for _, piece := range t.wanted(v) {
			if t.isPrint(piece) && !t.has(piece, progress.Printed) {
				n.add(piece)
			}
		}
		needs, steps = append(needs, n), append(steps, v)
	}
	return needs, steps
}

func (t *Todo) pieceNeeds(needs []set) {
	for i := range t.p.Pieces {
		if !t.isPrint(i) || t.has(i, progress.Printed) {
			continue
		}
		p := PieceNeed{Piece: i}
		for _, n := range needs {
			if n.has(i) {
				p.Waits++
				p.Opens += number(n.len() == 1)
			}
		}
		t.Pieces = append(t.Pieces, p)
	}
	slices.SortStableFunc(t.Pieces, func(a, b PieceNeed) int {
		return cmp.Or(cmp.Compare(b.Opens, a.Opens), cmp.Compare(b.Waits, a.Waits))
	})
}

// bundle is a set of pieces that opens at least one step.
type bundle struct {
	pieces set
	size   int
	gain   int // steps that it opens
	first  int // the first step that needs just these, by its place in the list
}

// bundlesOf lists what the steps need beyond the pieces that are printed, each set once,
// the smallest if there are many.
func bundlesOf(needs []set, printed set) []bundle {
	var list, open []bundle // open has one for each step that is not open yet
	known := map[string]bool{}
	for i, n := range needs {
		rest := n.without(printed)
		b := bundle{pieces: rest, size: rest.len(), first: i}
		if b.size == 0 {
			continue
		}
		open = append(open, b)
		if key := rest.key(); !known[key] {
			known[key] = true
			list = append(list, b)
		}
	}
	slices.SortStableFunc(list, func(a, b bundle) int { return a.size - b.size })
	list = list[:min(len(list), maxBundles)]
	for i := range list {
		for _, o := range open {
			list[i].gain += number(o.size <= list[i].size && o.pieces.within(list[i].pieces))
		}
	}
	return list
}

// set is a set of pieces, one bit each.
type set []uint64

func words(n int) int { return (n + 63) / 64 }

func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

func (s set) or(o set) set {
	u := slices.Clone(s)
	for i, w := range o {
		u[i] |= w
	}
	return u
}

func (s set) without(o set) set {
	u := slices.Clone(s)
	for i, w := range o {
		u[i] &^= w
	}
	return u
}

func (s set) within(o set) bool {
	for i, w := range s {
		if w&^o[i] != 0 {
			return false
		}
	}
	return true
}

func (s set) len() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

func (s set) list() []int {
	var list []int
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			list = append(list, i*64+bits.TrailingZeros64(w))
		}
	}
	return list
}

func (s set) key() string {
	b := make([]byte, 0, 8*len(s))
	for _, w := range s {
		for range 8 {
			b = append(b, byte(w))
			w >>= 8
		}
	}
	return string(b)
}
