package explain

import (
	"fmt"

	"dryfit/kits"
	"dryfit/plan"
)

// wireFindings reports wires that do not pass a hole of their run, and ends that
// do not: such an end must be put on after threading.
func (r *explainer) wireFindings() []plan.Finding {
	var list []plan.Finding
	for _, w := range r.Kit.Wires {
		hole := r.Change.HoleOf(w)
		if hole == nil {
			continue
		}
		if w.Across != nil && *w.Across > *hole {
			list = append(list, plan.Finding{
				Kind: plan.WireEnd, Grade: plan.Fault, Step: w.ID, Steps: []int{r.ThreadStep(w)}, Pos: w.HolePos,
				Text:    fmt.Sprintf("%s cannot be threaded: it is %s across and a hole of its run is %s", w.ID, r.MM(*w.Across), r.MM(*hole)),
				Because: []plan.Reason{plan.ReasonAt(fmt.Sprintf("the narrowest hole on its run is %s across", r.MM(*hole)), w.HolePos)},
				Repairs: []plan.Repair{{Text: fmt.Sprintf("make the hole at least %s across", r.MM(r.Kit.Unit.UpTo(*w.Across)))}},
			})
			continue
		}
		if wide := r.wideEnds(w); len(wide) > 0 {
			list = append(list, r.endFinding(w, wide))
		}
	}
	return list
}

// wideEnds lists the ends of a wire that are on it while it is threaded and do not
// pass its narrowest hole.
func (r *explainer) wideEnds(w *kits.Wire) []int {
	hole := r.Change.HoleOf(w)
	if hole == nil || r.Change.IsBare(w) {
		return nil
	}
	var wide []int
	for _, p := range []int{w.From, w.To} {
		if s := r.Kit.Pieces[p].Part.Size; s != nil && plan.RoundHole(s) > *hole {
			wide = append(wide, p)
		}
	}
	return wide
}

// endFinding reports ends that are too wide: if only one is, the other can lead;
// if both are, the wire cannot be threaded with its ends on.
func (r *explainer) endFinding(w *kits.Wire, wide []int) plan.Finding {
	f := plan.Finding{Kind: plan.WireEnd, Grade: plan.Caution, Step: w.ID, Steps: []int{r.ThreadStep(w)}, Piece: r.PieceName(wide[0]), Pieces: r.many(wide), Pos: w.HolePos,
		Text: fmt.Sprintf("%s goes in with its other end first, or must be threaded before its end %s is put on, which does not pass a hole of its run", w.ID, r.PieceName(wide[0]))}
	if len(wide) == 2 {
		f.Grade = plan.Fault
		f.Text = fmt.Sprintf("%s must be threaded before its ends %s are put on: neither passes a hole of its run", w.ID, r.PieceNames(wide))
	}
	f.Because = []plan.Reason{plan.ReasonAt(fmt.Sprintf("the narrowest hole on its run is %s across", r.MM(*r.Change.HoleOf(w))), w.HolePos)}
	widest := 0.0
	for _, p := range wide {
		s := r.Kit.Pieces[p].Part.Size
		widest = max(widest, r.Kit.Unit.UpTo(plan.RoundHole(s)))
		f.Because = append(f.Because, plan.ReasonAt(fmt.Sprintf("%s needs a round hole of %s", r.PieceName(p), r.MM(r.Kit.Unit.UpTo(plan.RoundHole(s)))), s.Pos, r.PieceName(p)))
	}
	f.Repairs = r.endRepairs(w, widest)
	return f
}

// endRepairs proposes changes for ends that are too wide. Each is tried.
func (r *explainer) endRepairs(w *kits.Wire, widest float64) []plan.Repair {
	return r.try([]proposal{
		{plan.Change{Bare: w}, sayLess, fmt.Sprintf("thread it bare and solder or crimp its ends on afterwards: bare: true on the wire at %s", w.Pos)},
		{plan.Change{Hole: w, Wide: widest}, enlarge, fmt.Sprintf("make the hole at least %s across", r.MM(widest))},
	}, func(c plan.Change) bool { return len(r.with(c).wideEnds(w)) == 0 })
}
