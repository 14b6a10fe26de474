package explain

import (
	"fmt"

	"dryfit/kits"
	"dryfit/plan"
)

// uncheckedFindings notes what the constraints do not cover: pieces held in a
// space that no step fits, and paint that depends on a coat that the kit lacks.
func (r *explainer) uncheckedFindings() []plan.Finding {
	var list []plan.Finding
	for _, s := range r.Kit.Spaces {
		for _, h := range s.Holds {
			if r.Kit.Fitted(h.Piece) == nil {
				list = append(list, plan.Finding{Kind: plan.Unchecked, Grade: plan.Note, Piece: r.PieceName(h.Piece), Pos: h.Pos,
					Text:    fmt.Sprintf("%s is held in %s, but no step fits it: it is the base of its group, and when that gets in is not checked", r.PieceName(h.Piece), s.ID),
					Because: []plan.Reason{plan.ReasonAt(fmt.Sprintf("%s is held in %s", r.PieceName(h.Piece), s.ID), h.Pos)}})
			}
		}
	}
	for _, t := range r.Kit.Tasks {
		if t.Coat {
			return list
		}
	}
	for _, p := range r.Kit.Parts {
		if p.Paint == kits.PaintOutside || p.Paint == kits.PaintOffModel {
			return append(list, plan.Finding{Kind: plan.Uncoated, Grade: plan.Note, Piece: p.ID, Pos: p.PaintPos,
				Text:    fmt.Sprintf("%s is painted %s, but no task is the outside coat, so its paint does not affect the order; add a task with coat: outside", p.ID, p.Paint),
				Because: []plan.Reason{plan.ReasonAt("paint of "+p.ID, p.PaintPos)}})
		}
	}
	return list
}
