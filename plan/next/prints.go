package next

import (
	"cmp"
	"slices"

	"dryfit/plan/bitset"
)

// Print is what to print next: pieces, and the steps that they make possible
// together, in order, once clean and painted.
type Print struct {
	Plate  int // number of the plate that holds them, if plates are planned
	Pieces []int
	Opens  []int
}

// ByPlates proposes to print plates instead, in the order of their numbers, with the
// steps that each makes possible after those before it.
func (t *Todo) ByPlates(plates []Print) {
	needs, steps := t.printNeeds()
	printed := bitset.New(len(t.p.Pieces))
	open := make([]bool, len(needs))
	lacks := make([]int, len(needs)) // a piece that each still waits for
	for i, n := range needs {
		lacks[i] = n.First(printed)
		open[i] = lacks[i] < 0
	}
	t.Prints = nil
	for _, p := range plates {
		for _, piece := range p.Pieces {
			printed.Add(piece)
		}
		p.Opens = nil
		for i, n := range needs {
			if open[i] || !printed.Has(lacks[i]) {
				continue
			}
			if lacks[i] = n.First(printed); lacks[i] < 0 {
				open[i] = true
				p.Opens = append(p.Opens, steps[i])
			}
		}
		t.Prints = append(t.Prints, p)
	}
}

// PieceNeed is a piece that is not printed: how many steps it makes possible on
// its own, and how many wait for it.
type PieceNeed struct {
	Piece        int
	Opens, Waits int
}

// Bounds on what to print next: how many proposals are made, and how many sets of pieces
// are tried for each.
const (
	maxPrints  = 8
	maxBundles = 400
)

// prints proposes what to print: repeatedly the pieces that make most steps
// possible per piece printed, few pieces before many, early steps before late
// ones. A step is possible when it, and all that comes before it in the order,
// has its pieces, so nothing counts that would shut out something else.
func (t *Todo) prints() {
	needs, steps := t.printNeeds()
	t.pieceNeeds(needs)
	printed := bitset.New(len(t.p.Pieces))
	for range maxPrints {
		bundles := bundlesOf(needs, printed)
		if len(bundles) == 0 {
			return
		}
		best := slices.MaxFunc(bundles, func(a, b bundle) int {
			return cmp.Or(cmp.Compare(a.gain*b.size, b.gain*a.size), cmp.Compare(b.size, a.size), cmp.Compare(b.first, a.first))
		})
		p := Print{Pieces: best.pieces.List()}
		for i, n := range needs {
			if !n.Within(printed) && n.Within(best.pieces.Or(printed)) {
				p.Opens = append(p.Opens, steps[i])
			}
		}
		t.Prints = append(t.Prints, p)
		printed = printed.Or(best.pieces)
	}
}

// printNeeds lists, for each step that still can be done, the pieces that must be
// printed for it and for all that has to come before it.
func (t *Todo) printNeeds() (needs []bitset.Set, steps []int) {
	nodes, before := t.Rest.Chain()
	of := make([]bitset.Set, len(before))
	for _, v := range nodes {
		n := bitset.New(len(t.p.Pieces))
		for _, w := range before[v] {
			n = n.Or(of[w])
		}
		if of[v] = n; v >= len(t.Rest.Done) {
			continue
		}
		for _, piece := range t.wanted(v) {
			if t.unprinted(piece) {
				n.Add(piece)
			}
		}
		needs, steps = append(needs, n), append(steps, v)
	}
	return needs, steps
}

func (t *Todo) pieceNeeds(needs []bitset.Set) {
	waits, opens := make([]int, len(t.p.Pieces)), make([]int, len(t.p.Pieces))
	for _, n := range needs {
		list := n.List()
		for _, i := range list {
			waits[i]++
			opens[i] += one(len(list) == 1)
		}
	}
	for i := range t.p.Pieces {
		if t.unprinted(i) {
			t.Pieces = append(t.Pieces, PieceNeed{Piece: i, Opens: opens[i], Waits: waits[i]})
		}
	}
	slices.SortStableFunc(t.Pieces, func(a, b PieceNeed) int {
		return cmp.Or(cmp.Compare(b.Opens, a.Opens), cmp.Compare(b.Waits, a.Waits))
	})
}

// bundle is a set of pieces that makes at least one step possible.
type bundle struct {
	pieces bitset.Set
	size   int
	gain   int // steps that it opens
	first  int // the first step that needs just these, by its place in the list
	one    int // one of the pieces
}

// bundlesOf lists what the steps need beyond the pieces that are printed, each set once,
// the smallest if there are many.
func bundlesOf(needs []bitset.Set, printed bitset.Set) []bundle {
	var list, open []bundle // open has one for each step that is not open yet
	known := map[string]bool{}
	for i, n := range needs {
		rest := n.Without(printed)
		b := bundle{pieces: rest, size: rest.Len(), first: i, one: n.First(printed)}
		if b.size == 0 {
			continue
		}
		open = append(open, b)
		if key := rest.Key(); !known[key] {
			known[key] = true
			list = append(list, b)
		}
	}
	slices.SortStableFunc(list, func(a, b bundle) int { return a.size - b.size })
	list = list[:min(len(list), maxBundles)]
	for i := range list {
		for _, o := range open {
			list[i].gain += one(o.size <= list[i].size && list[i].pieces.Has(o.one) && o.pieces.Within(list[i].pieces))
		}
	}
	return list
}
