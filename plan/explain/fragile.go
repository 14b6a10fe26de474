package explain

import (
	"fmt"
	"slices"

	"dryfit/plan"
)

// fragileFindings warns of breakable outside detail that has to go on before a
// closing: clamping, seam work and turning over still follow (common practice).
func (s *outcome) fragileFindings() []plan.Finding {
	r := s.explainer
	outside, held := r.FragileOutside(), plan.HeldPieces(r.Kit)
	var list []plan.Finding
	reported := map[int]bool{}
	for c, closing := range r.Steps {
		if closing.Kind != plan.Close {
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

func (s *outcome) fragileFinding(piece, step, closing int) plan.Finding {
	r := s.explainer
	f := plan.Finding{
		Kind: plan.FragileIn, Grade: plan.Caution, Piece: r.PieceName(piece), Step: r.Name(step), Steps: []int{step}, Pos: r.Steps[step].Pos(),
		Text: fmt.Sprintf("%s is fragile and outside, yet it must be on before %s; clamping, seam work and handling follow", r.PieceName(piece), r.Name(closing)),
	}
	var proposals []proposal
	for _, n := range r.Needs {
		st := r.Statements[n.Statement]
		if n.Before != step {
			continue
		}
		f.Because = append(f.Because, plan.ReasonAt(st.Text, st.At))
		if st.Kind == plan.OfOrder {
			proposals = append(proposals, dropping(st))
		}
	}
	f.Repairs = r.try(proposals, func(c plan.Change) bool {
		after := r.with(c).Outcome()
		return len(after.Stuck) == 0 && !slices.Contains(after.System.Before(closing), step)
	})
	return f
}
