package draft

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// What makes a piece the one that another is fitted to; all ours.
const (
	stands       = 1.0  // furniture stands on its floor, no matter how much it leans against a wall
	standsOn     = 0.01 // of its footprint must rest on something for it to stand there: four legs do
	structure    = 1.0  // floors and bulkheads go into the shell
	shellToShell = 1.0  // a shell goes onto the shell it continues, before anything is in
	alike        = 0.5  // of the size of a shell that another must have to continue it
	outerOnInner = 0.2  // what is outside is hardly fitted to what a shell holds
	larger       = 0.15 // among equals the larger carries,
	busy         = 0.01 // for each neighbour, up to busiest, the one that carries more,
	busiest      = 10
	firstHalf    = 0.15 // the half that is built up first,
	baseFirst    = 0.05 // and the base itself
)

// base is what the others are fitted to in the end: a piece, and the other half of it that
// is closed on it, -1 if it is no half.
type base struct {
	root, half int
	axis       int // across which they are halves
}

// findBase finds the base of some pieces that hang together: the one that carries most, by
// its size and the number of its neighbours.
func (r *relations) findBase(pieces []int) base {
	carries := func(p int) float64 { return r.room[p] * float64(len(r.near[p])) }
	b := base{root: pieces[0], half: -1, axis: -1}
	for _, p := range pieces {
		if carries(p) > carries(b.root) {
			b.root = p
		}
	}
	for _, n := range r.near[b.root] {
		axis := r.mirrorAxis(b.root, n.piece)
		if axis >= 0 && r.closeTogether(b.root, n.piece) && (b.half < 0 || r.room[n.piece] > r.room[b.half]) {
			b.half, b.axis = n.piece, axis
		}
	}
	return b
}

// closeTogether reports whether two pieces close a hollow together.
func (r *relations) closeTogether(p, q int) bool {
	for i := range r.hollows {
		closes := map[int]bool{}
		for _, c := range r.hollows[i].Closers {
			closes[c.Piece] = true
		}
		if closes[p] && closes[q] {
			return true
		}
	}
	return false
}

// islands lists the pieces that hang together, the most first and, of as many, the
// largest.
func (r *relations) islands() [][]int {
	seen := make([]bool, len(r.near))
	var list [][]int
	for start := range r.near {
		if seen[start] || !r.survey.Measured(start) {
			continue
		}
		seen[start] = true
		island := []int{start}
		for i := 0; i < len(island); i++ {
			for _, n := range r.near[island[i]] {
				if !seen[n.piece] {
					seen[n.piece] = true
					island = append(island, n.piece)
				}
			}
		}
		slices.Sort(island)
		list = append(list, island)
	}
	largest := func(island []int) float64 {
		most := 0.0
		for _, p := range island {
			most = max(most, r.room[p])
		}
		return most
	}
	slices.SortStableFunc(list, func(a, b []int) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(largest(b), largest(a)))
	})
	return list
}

// fitTo says what each piece of an island is best fitted to, -1 for its base. The other
// half of the base is fitted to the base.
func (r *relations) fitTo(island []int) (base, []int) {
	b := r.findBase(island)
	var ties []tie
	for _, p := range island {
		for i := range r.near[p] {
			n := &r.near[p][i]
			t := tie{p, n.piece, r.weight(p, n, &b)}
			if p == b.half && n.piece == b.root {
				t.weight = math.MaxInt32 // they close, whatever else they touch
			}
			ties = append(ties, t)
		}
	}
	parent := slices.Repeat([]int{-1}, len(r.near))
	for p, c := range bestTree(len(r.near), b.root, ties) {
		if c >= 0 {
			parent[p] = ties[c].onto
		}
	}
	return b, parent
}

// weight says how well a piece is fitted to a neighbour: the share of what it touches, if
// that is large enough to carry it, and what a person would prefer besides.
func (r *relations) weight(p int, n *neighbour, b *base) float64 {
	q := n.piece
	carried := math.Sqrt(min(1, r.room[q]/max(r.room[p], 1e-9)))
	w := n.area / r.all[p] * carried
	if r.in[q] >= 0 && r.in[p] < 0 {
		w *= outerOnInner
	}
	switch {
	case r.touches[p] && !n.touch: // it is fitted to something else
	case r.plate[p] && r.wall[q]:
		w += structure
	case r.standsOn(p, n):
		w += stands * carried
	}
	if r.wall[p] && r.wall[q] && r.sameSide(p, q, b) && r.room[q] >= alike*r.room[p] && r.room[p] >= alike*r.room[q] {
		w += shellToShell
	}
	w += larger*math.Cbrt(r.room[q]/max(slices.Max(r.room), 1e-9)) + busy*float64(min(len(r.near[q]), busiest))
	if r.sameSide(q, b.root, b) {
		w += firstHalf
	}
	if q == b.root || q == b.half {
		w += baseFirst
	}
	return w
}

// standsOn reports whether a piece that is held in a hollow stands on a neighbour: most of
// what is under it is there.
func (r *relations) standsOn(p int, n *neighbour) bool {
	if r.in[p] < 0 || r.plate[p] {
		return false
	}
	under := 0.0
	for i := range r.near[p] {
		under += r.near[p][i].faces[2][1]
	}
	size := r.survey.Pieces[p].Size()
	down := n.faces[2][1]
	return 2*down > under && down >= standsOn*size[0]*size[1]
}

// sameSide reports whether two pieces are on the same side of what divides the halves of
// the base.
func (r *relations) sameSide(p, q int, b *base) bool {
	if b.half < 0 {
		return true
	}
	side := func(x int) bool { return r.middle(x)[b.axis] < r.plane(b) }
	return side(p) == side(q)
}

// plane is where the halves of the base meet, mm along their axis.
func (r *relations) plane(b *base) float64 {
	return (r.middle(b.root)[b.axis] + r.middle(b.half)[b.axis]) / 2
}

func (r *relations) middle(p int) geom.Vec { return r.survey.Pieces[p].Box.Centre() }
