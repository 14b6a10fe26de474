package plan

import (
	"fmt"

	"dryfit/kits"
)

// wireFindings reports wires that do not pass a hole of their run, and ends that
// do not: such an end must be put on after threading.
func (r *Constraints) wireFindings() []Finding {
	var list []Finding
	for _, w := range r.Kit.Wires {
		hole := r.change.holeOf(w)
		if hole == nil {
			continue
		}
		if w.Across != nil && *w.Across > *hole {
			list = append(list, Finding{
				Kind: WireEnd, Grade: Fault, Step: w.ID, at: w.HolePos,
				Text:    fmt.Sprintf("%s cannot be threaded: it is %s across and a hole of its run is %s", w.ID, r.mm(*w.Across), r.mm(*hole)),
				Because: []Reason{because(fmt.Sprintf("the narrowest hole on its run is %s across", r.mm(*hole)), w.HolePos)},
				Repairs: []Repair{{fmt.Sprintf("make the hole at least %s across", r.mm(r.Kit.Unit.UpTo(*w.Across))), enlarge}},
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
func (r *Constraints) wideEnds(w *kits.Wire) []int {
	hole := r.change.holeOf(w)
	if hole == nil || r.change.isBare(w) {
		return nil
	}
	var wide []int
	for _, p := range []int{w.From, w.To} {
		if s := r.Kit.Pieces[p].Part.Size; s != nil && round(s) > *hole {
			wide = append(wide, p)
		}
	}
	return wide
}

// endFinding: when one end is too wide the other can lead; when both are, the wire
// cannot be threaded with its ends on.
func (r *Constraints) endFinding(w *kits.Wire, wide []int) Finding {
	f := Finding{Kind: WireEnd, Grade: Caution, Step: w.ID, Piece: r.pieceName(wide[0]), Pieces: r.many(wide), at: w.HolePos,
		Text: fmt.Sprintf("%s goes in with its other end first, or must be threaded before its end %s is put on, which does not pass a hole of its run", w.ID, r.pieceName(wide[0]))}
	if len(wide) == 2 {
		f.Grade = Fault
		f.Text = fmt.Sprintf("%s must be threaded before its ends %s are put on: neither passes a hole of its run", w.ID, r.pieceNames(wide))
	}
	f.Because = []Reason{because(fmt.Sprintf("the narrowest hole on its run is %s across", r.mm(*r.change.holeOf(w))), w.HolePos)}
	widest := 0.0
	for _, p := range wide {
		s := r.Kit.Pieces[p].Part.Size
		widest = max(widest, r.Kit.Unit.UpTo(round(s)))
		f.Because = append(f.Because, because(fmt.Sprintf("%s needs a round hole of %s", r.pieceName(p), r.mm(r.Kit.Unit.UpTo(round(s)))), s.Pos, r.pieceName(p)))
	}
	f.Repairs = r.endRepairs(w, widest)
	return f
}

// endRepairs: each is tried.
func (r *Constraints) endRepairs(w *kits.Wire, widest float64) []Repair {
	return r.try([]proposal{
		{change{bare: w}, sayLess, fmt.Sprintf("thread it bare and solder or crimp its ends on afterwards: bare: true on the wire at %s", w.Pos)},
		{change{hole: w, wide: widest}, enlarge, fmt.Sprintf("make the hole at least %s across", r.mm(widest))},
	}, func(c change) bool { return len(r.again(c).wideEnds(w)) == 0 })
}
