package rehearse

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// Move puts one action of a sequence before another. Both are indices in the sequence as
// it was before the move; Before is the length of the sequence for its end.
type Move struct{ Action, Before int }

// After reports whether the action moves towards the end.
func (v Move) After() bool { return v.Before > v.Action }

// distance is how many actions it passes.
func (v Move) distance() int {
	if v.After() {
		return v.Before - v.Action - 1
	}
	return v.Action - v.Before
}

// Apply is the sequence after the move.
func (v Move) Apply(sequence []Action) []Action { return moved(sequence, v) }

// moved is a list after a move.
func moved[T any](list []T, v Move) []T {
	out := slices.Delete(slices.Clone(list), v.Action, v.Action+1)
	at := v.Before
	if v.After() {
		at--
	}
	return slices.Insert(out, at, list[v.Action])
}

// Advice is what would make a sequence work.
type Advice struct {
	// Place is the nearest place at which the action that fails can be done, if it alone is
	// moved; nil if there is none.
	Place *Move
	// Moves make the whole sequence work: one, or two of which the second is counted in
	// the sequence after the first. There are none if none were found.
	Moves []Move
	Fixed []Action // the sequence after the moves
}

// Advise looks for the smallest change of a sequence that fails: one action moved, the
// shorter the way the better, or else two. The search is bounded, so moves can exist that
// it does not find.
func Advise(k *kits.Kit, g *plan.Geometry, steps []plan.Step, sequence []Action) Advice {
	var a Advice
	s := newSearch(newModel(k, g, steps), sequence)
	if s.result.Failure == nil {
		return a
	}
	a.Place = s.place()
	order := s.one()
	if order == nil {
		order = s.two()
	}
	if order != nil {
		a.Moves, a.Fixed = movesTo(order), s.actions(order)
	}
	return a
}

// movesTo lists the moves that lead to an order of the indices 0, 1, 2 and so on in which
// at most two stand elsewhere.
func movesTo(order []int) []Move {
	var list []Move
	now := indices(len(order))
	for !slices.Equal(now, order) {
		v := nextMove(now, order)
		now = moved(now, v)
		list = append(list, v)
	}
	return list
}

// nextMove is the shortest move after which the fewest moves are left. Of two entries that
// change places it moves the one behind.
func nextMove(now, order []int) Move {
	var best Move
	left := len(order) + 1
	for from, x := range slices.Backward(now) {
		at := slices.Index(order, x)
		// It goes before what follows it in the end, or after what comes before it.
		for _, before := range []int{placeOf(now, order, at+1), placeOf(now, order, at-1) + 1} {
			v := Move{from, before}
			if before == from || before == from+1 {
				continue
			}
			n := len(order) - common(moved(now, v), order)
			if n < left || n == left && v.distance() < best.distance() {
				best, left = v, n
			}
		}
	}
	return best
}

// placeOf is where the entry at a place of an order stands now. Beyond the ends it is the
// place beyond them.
func placeOf(now, order []int, at int) int {
	if at < 0 || at == len(order) {
		return at
	}
	return slices.Index(now, order[at])
}

// common is the length of the longest common subsequence of two orders of the same
// entries: the longest rising one of the places that the entries of the one have in the
// other.
func common(a, b []int) int {
	place := make([]int, len(b))
	for i, x := range b {
		place[x] = i
	}
	var tails []int // the least last place of a rising sequence of each length
	for _, x := range a {
		i, _ := slices.BinarySearch(tails, place[x])
		if i == len(tails) {
			tails = append(tails, 0)
		}
		tails[i] = place[x]
	}
	return len(tails)
}
