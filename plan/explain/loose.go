package explain

import (
	"fmt"
	"strings"

	"dryfit/plan"
)

// looseFindings reports the groups of pieces that no chain of joins ties to the
// rest. The rest is the largest group or, among equals, the first in the file. An
// option that no join names is left out, not loose.
func (r *explainer) looseFindings() []plan.Finding {
	groups := r.Groups()
	main := 0
	for c, g := range groups {
		if len(g) > len(groups[main]) {
			main = c
		}
	}
	var list []plan.Finding
	for c, g := range groups {
		if c == main || len(g) == 1 && r.Kit.Pieces[g[0]].Part.Class == "option" {
			continue
		}
		list = append(list, r.looseFinding(g, groups[main]))
	}
	return list
}

func (r *explainer) looseFinding(g, main []int) plan.Finding {
	part := r.Kit.Pieces[g[0]].Part
	verb := "is"
	if len(g) > 1 && !r.wholePart(g) {
		verb = "are"
	}
	f := plan.Finding{
		Kind: plan.Loose, Grade: plan.Fault, Piece: r.PieceName(g[0]), Pieces: r.many(g), Pos: part.Pos,
		Text: fmt.Sprintf("%s %s tied to nothing: no chain of joins leads to %s and the rest of the model",
			r.PieceNames(g), verb, r.PieceName(main[0])),
		Because: []plan.Reason{{Text: fmt.Sprintf("no join fits %s to the rest, or closes the two on each other", r.PieceNames(g)), At: part.Pos.String()}},
	}
	base := g[0]
	for _, p := range g {
		if r.Kit.Fitted(p) == nil {
			base = p
			break
		}
	}
	f.Repairs = []plan.Repair{
		{Text: fmt.Sprintf("add a join: {fit: %s, to: ...}, or {close: [..., %s]}", r.PieceName(base), r.PieceName(base))},
	}
	if len(g) == 1 {
		f.Repairs = append(f.Repairs, plan.Repair{Text: "give it class: option, spare or tooling if it is not part of the model"})
	}
	return f
}

func (r *explainer) wholePart(g []int) bool { return !strings.Contains(r.PieceNames(g), " ") }

// many lists the ids of pieces if there are several.
func (r *explainer) many(pieces []int) []string {
	if len(pieces) < 2 {
		return nil
	}
	return r.Kit.IDs(pieces)
}
