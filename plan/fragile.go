package plan

import (
	"fmt"
	"slices"

	"dryfit/kits"
)

// fragileFindings warns of breakable outside detail that has to go on before a
// closing: clamping, seam work and turning over still follow (common practice).
func (s *Solution) fragileFindings() []Finding {
	r := s.Constraints
	outside, held := r.fragileOutside(), heldPieces(r.Kit)
	var list []Finding
	reported := map[int]bool{}
	for c, closing := range r.Steps {
		if closing.Kind != Close {
			continue
		}
		for _, v := range s.System.Before(c) {
			if !outside[v] || reported[v] {
				continue
			}
			reported[v] = true
			i := slices.IndexFunc(r.Steps[v].Join.Pieces, func(p int) bool { return !held[p] })
			list = append(list, s.fragileFinding(r.Steps[v].Join.Pieces[i], v, c))
		}
	}
	return list
}

func (s *Solution) fragileFinding(piece, step, closing int) Finding {
	r := s.Constraints
	f := Finding{
		Kind: FragileIn, Grade: Caution, Piece: r.pieceName(piece), Step: r.name(step), at: r.Steps[step].pos(),
		Text: fmt.Sprintf("%s is fragile and stands outside, yet it must be on before %s; clamping, seam work and handling follow", r.pieceName(piece), r.name(closing)),
	}
	var proposals []proposal
	for _, n := range r.Needs {
		st := r.Statements[n.Statement]
		if n.Before != step {
			continue
		}
		f.Because = append(f.Because, because(st.Text, st.At))
		if st.kind == asked {
			proposals = append(proposals, st.dropping())
		}
	}
	f.Repairs = r.try(proposals, func(c change) bool {
		after := r.again(c).solve()
		return len(after.Stuck) == 0 && !slices.Contains(after.System.Before(closing), step)
	})
	return f
}

// fragileOutside marks the steps that fit breakable pieces outside of every space.
func (r *Constraints) fragileOutside() []bool {
	held := heldPieces(r.Kit)
	marked := make([]bool, len(r.Steps))
	for v, s := range r.Steps {
		if s.Kind == Fit {
			marked[v] = slices.ContainsFunc(s.Join.Pieces, func(p int) bool { return r.Kit.Pieces[p].Part.Fragile && !held[p] })
		}
	}
	return marked
}

// lateSteps marks the steps that a person leaves to the end: fragile outside detail,
// and what is taken out again in service, such as a battery.
func (r *Constraints) lateSteps() []bool {
	late := r.fragileOutside()
	for _, s := range r.Kit.Service {
		if j := r.Kit.Fitted(s.Reach); j != nil && r.change.isOpen(j) {
			late[r.number.join[j]] = true
		}
	}
	return late
}

// heldPieces tells which pieces are inside a space.
func heldPieces(k *kits.Kit) []bool {
	held := make([]bool, len(k.Pieces))
	for _, s := range k.Spaces {
		for _, h := range s.Holds {
			held[h.Piece] = true
		}
	}
	return held
}
