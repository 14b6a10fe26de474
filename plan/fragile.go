package plan

import (
	"fmt"
	"slices"
)

// fragileFindings warns of breakable outside detail that has to go on before a
// closing: clamping, seam work and turning over still follow (common practice).
func (s *Solution) fragileFindings() []Finding {
	r := s.Rules
	held := heldPieces(r.Kit)
	var list []Finding
	reported := map[int]bool{}
	for c, closing := range r.Steps {
		if closing.Kind != Close {
			continue
		}
		for _, v := range s.System.Before(c) {
			if r.Steps[v].Kind != Fit || reported[v] {
				continue
			}
			for _, p := range r.Steps[v].Join.Pieces {
				if r.Kit.Pieces[p].Part.Fragile && !held[p] {
					reported[v] = true
					list = append(list, s.fragileFinding(p, v, c))
					break
				}
			}
		}
	}
	return list
}

func (s *Solution) fragileFinding(piece, step, closing int) Finding {
	r := s.Rules
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
		f.Because = append(f.Because, Reason{st.Text, st.At.String()})
		if st.kind == asked {
			at := st.At
			proposals = append(proposals, proposal{change{drop: &at}, sayLess, fmt.Sprintf("drop %q at %s", st.order.Name, at)})
		}
	}
	f.Repairs = r.try(proposals, func(c change) bool {
		after := derive(r.Kit, c).solve()
		return len(after.Stuck) == 0 && !slices.Contains(after.System.Before(closing), step)
	})
	return f
}
