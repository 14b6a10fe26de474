package plan

import (
	"fmt"
	"strings"
)

// looseFindings reports the groups of pieces that no chain of joins ties to the
// rest. The rest is the largest group; of several as large, the one that comes
// first in the file. An option that no join names is left out, not loose.
func (r *Constraints) looseFindings() []Finding {
	groups := make([][]int, r.tree.comps)
	for p := range r.Kit.Pieces {
		c := r.tree.comp[p]
		groups[c] = append(groups[c], p)
	}
	main := 0
	for c, g := range groups {
		if len(g) > len(groups[main]) {
			main = c
		}
	}
	var list []Finding
	for c, g := range groups {
		if c == main || len(g) == 1 && r.Kit.Pieces[g[0]].Part.Class == "option" {
			continue
		}
		list = append(list, r.looseFinding(g, groups[main]))
	}
	return list
}

func (r *Constraints) looseFinding(g, main []int) Finding {
	part := r.Kit.Pieces[g[0]].Part
	verb := "is"
	if len(g) > 1 && !r.wholePart(g) {
		verb = "are"
	}
	f := Finding{
		Kind: Loose, Grade: Fault, Piece: r.pieceName(g[0]), Pieces: r.many(g), at: part.Pos,
		Text: fmt.Sprintf("%s %s tied to nothing: no chain of joins leads to %s and the rest of the model",
			r.pieceNames(g), verb, r.pieceName(main[0])),
		Because: []Reason{{Text: fmt.Sprintf("no join fits %s to the rest, or closes the two on each other", r.pieceNames(g)), At: part.Pos.String()}},
	}
	base := g[0]
	for _, p := range g {
		if r.Kit.Fitted(p) == nil {
			base = p
			break
		}
	}
	f.Repairs = []Repair{
		{fmt.Sprintf("add a join: {fit: %s, to: ...}, or {close: [..., %s]}", r.pieceName(base), r.pieceName(base)), elsewhere},
	}
	if len(g) == 1 {
		f.Repairs = append(f.Repairs, Repair{"give it class: option, spare or tooling if it does not stand in the model", sayLess})
	}
	return f
}

func (r *Constraints) wholePart(g []int) bool { return !strings.Contains(r.pieceNames(g), " ") }

// many lists the ids of pieces when there are several.
func (r *Constraints) many(pieces []int) []string {
	if len(pieces) < 2 {
		return nil
	}
	names := make([]string, len(pieces))
	for i, p := range pieces {
		names[i] = r.pieceName(p)
	}
	return names
}
