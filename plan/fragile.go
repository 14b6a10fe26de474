package plan

import (
	"slices"

	"dryfit/kits"
)

// FragileOutside marks the steps that fit breakable pieces outside every space.
func (r *Constraints) FragileOutside() []bool {
	held := HeldPieces(r.Kit)
	marked := make([]bool, len(r.Steps))
	for v, s := range r.Steps {
		marked[v] = slices.ContainsFunc(s.Fits(), func(p int) bool { return r.Kit.Pieces[p].Part.Fragile && !held[p] })
	}
	return marked
}

// lateSteps marks the steps that a builder leaves to the end: fragile outside
// detail, and what is taken out again in service, such as a battery.
func (r *Constraints) lateSteps() []bool {
	late := r.FragileOutside()
	for _, s := range r.Kit.Service {
		if j := r.Kit.Fitted(s.Reach); j != nil && r.Change.IsOpen(j) {
			late[r.number.Join[j]] = true
		}
	}
	return late
}

// HeldPieces marks the pieces that are inside a space.
func HeldPieces(k *kits.Kit) []bool {
	held := make([]bool, len(k.Pieces))
	for _, s := range k.Spaces {
		for _, h := range s.Holds {
			held[h.Piece] = true
		}
	}
	return held
}
