package plan

import (
	"dryfit/kits"
	"dryfit/kits/progress"
)

// PaintInside lists the pieces whose inside is shut by a step that opens again: they must
// be painted by then, or the step undone for it. What is shut for good is a last call.
func (q *Sequence) PaintInside(step int) []int { return q.inside[step] }

// paintedInside finds for each piece that is painted before closing, and has no last call
// for it, the step that shuts it in.
func (q *Sequence) paintedInside() map[int][]int {
	r := q.Solution.Constraints
	held := HeldPieces(r.Kit)
	shut := map[int][]int{}
	for p, pc := range r.Kit.Pieces {
		if pc.Part.Paint != kits.PaintBeforeClose || q.called(progress.TickPaint, p) {
			continue
		}
		v := -1
		if !held[p] {
			v = q.walledIn(p, false)
		}
		if v < 0 {
			v = q.shutInside(p, held[p])
		}
		if v < 0 {
			continue
		}
		// What shuts it in may be there before it, and taken off for it.
		if j := r.Kit.Fitted(p); j != nil && q.detours[r.number.Join[j]] != nil && q.Place[v] < q.Place[r.number.Join[j]] {
			v = r.number.Join[j]
		}
		shut[v] = append(shut[v], p)
	}
	return shut
}

// shutInside is the first step that shuts a space around a piece or, for one that is held
// in none, its way in past the meshes; -1 if none does.
func (q *Sequence) shutInside(piece int, held bool) int {
	r := q.Solution.Constraints
	first := -1
	for i := range r.Access {
		a := r.Access[i].ShutIn()
		if a.Piece != piece || held != (a.Space != nil) || a.Learned {
			continue
		}
		if v := q.shut(&a, false); v >= 0 && (first < 0 || q.Place[v] < q.Place[first]) {
			first = v
		}
	}
	return first
}
