package draft

import (
	"context"
	"fmt"
	"slices"

	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/blocking"
)

// findings lists what is wrong with the meshes: each on its own, with each other,
// and in how they come apart.
func (m *Measurement) findings(ctx context.Context) ([]plan.Finding, error) {
	clashes := m.clashes()
	list := append([]plan.Finding{}, slices.Concat(m.survey.MeshFindings(true), clashes, m.loose())...)
	for _, l := range m.disassembly.Locked {
		list = append(list, m.lockedFindings(l)...)
	}
	if len(clashes) == 0 {
		return list, nil
	}
	strict, err := m.survey.Model.DisassembleStrictly(ctx)
	if err != nil {
		return nil, err
	}
	free := lockedPieces(m.disassembly)
	var caught []string
	for p := range lockedPieces(strict) {
		if !free[p] {
			caught = append(caught, m.survey.IDs[p])
		}
	}
	if slices.Sort(caught); len(caught) > 0 {
		list = append(list, plan.NewFinding(plan.Clashes, plan.Note,
			fmt.Sprintf("because of these overlaps alone %s could not be taken apart: %s; the steps ignore the overlaps", english.Count(len(caught), "piece"), english.And(caught, maxNames))))
	}
	return list, nil
}

// clashes are the pairs that overlap.
func (m *Measurement) clashes() []plan.Finding {
	var list []plan.Finding
	for _, p := range m.Pairs {
		if p.Depth > 0 {
			a, b := p.Pieces[0], p.Pieces[1]
			text := fmt.Sprintf("%s and %s overlap by %s mm (%s mm3)", a, b, english.Number(p.Depth, 2), english.Number(p.Volume, 2))
			list = append(list, plan.NewFinding(plan.Clashes, plan.Fault, text).About(a, b))
		}
	}
	return list
}

// loose are the pieces, or islands of pieces, that nothing else is near.
func (m *Measurement) loose() []plan.Finding {
	var list []plan.Finding
	for _, island := range m.draft.alone {
		names := m.names(island)
		verb := "touches"
		if len(names) > 1 {
			verb = "touch"
		}
		text := fmt.Sprintf("%s %s no other piece (nothing is within %s mm)", english.And(names, maxNames), verb, english.Number(m.Fit, 2))
		list = append(list, plan.NewFinding(plan.Loose, plan.Caution, text).About(names...))
	}
	return list
}

// enclosed lists the pieces of a locked group that another of it blocks in every
// direction measured, each with that other.
func (m *Measurement) enclosed(l blocking.Lock) map[int]int {
	in := map[int]int{}
	for _, p := range l.Pieces {
		for _, q := range l.Pieces {
			if p != q && m.draft.within(p, q) {
				in[p] = q
			}
		}
	}
	return in
}

// within reports whether a piece lies inside another, which blocks it all around.
func (d *draft) within(p, q int) bool {
	a, b := d.survey.Pieces[p].Box, d.survey.Pieces[q].Box
	if !b.Holds(a.Min) || !b.Holds(a.Max) {
		return false
	}
	for _, byPiece := range d.measured.InTheWay {
		if !slices.Contains(byPiece[p], int32(q)) {
			return false
		}
	}
	return true
}

// encloses says that a piece is inside one solid of another.
func (m *Measurement) encloses(outer, inner int) plan.Finding {
	a, b := m.survey.IDs[outer], m.survey.IDs[inner]
	return plan.NewFinding(plan.Blocked, plan.Fault, fmt.Sprintf("%s encloses %s: divide %s, so that it closes around %s", a, b, a, b)).About(b)
}

func lockedPieces(d *blocking.Disassembly) map[int]bool {
	in := map[int]bool{}
	for _, l := range d.Locked {
		for _, p := range l.Pieces {
			in[p] = true
		}
	}
	return in
}

// lockedFindings tells a locked group: the pieces inside others, and the rest of it.
func (m *Measurement) lockedFindings(l blocking.Lock) []plan.Finding {
	var list []plan.Finding
	in := m.enclosed(l)
	for _, p := range l.Pieces {
		if outer, inside := in[p]; inside {
			list = append(list, m.encloses(outer, p))
		}
	}
	if len(in) < len(l.Pieces)-1 {
		list = append(list, m.locked(l))
	}
	return list
}

// maxHolds bounds the reasons given for one lock.
const maxHolds = 12

// locked is a group that cannot be taken apart, and which piece blocks which in it.
func (m *Measurement) locked(l blocking.Lock) plan.Finding {
	names := m.names(l.Pieces)
	f := plan.NewFinding(plan.Blocked, plan.Fault,
		fmt.Sprintf("%s are locked: no piece and no group of them leaves by straight moves, alone or in up to %d legs", english.And(names, maxNames), blocking.MaxLegs)).About(names...)
	said := map[[2]int]bool{}
	for _, h := range l.Holds {
		pair := [2]int{h.Piece, h.By}
		if said[pair] || len(said) == maxHolds {
			continue
		}
		said[pair] = true
		ids := m.survey.IDs
		f.Because = append(f.Because, plan.Reason{Text: fmt.Sprintf("%s cannot leave toward %s: %s is in its way", ids[h.Piece], english.Direction(h.Direction), ids[h.By])})
	}
	return f
}

// Verdict sums up the result in one line.
func (m *Measurement) Verdict() string {
	text := fmt.Sprintf("%s together in %s", english.Count(len(m.Pieces), "piece goes", "pieces go"), english.Count(len(m.Steps), "step"))
	if n := len(lockedPieces(m.disassembly)); n > 0 {
		text += fmt.Sprintf("; %d are locked", n)
	}
	if n := plan.CountOf(m.Findings, plan.Fault); n > 0 {
		return fmt.Sprintf("%s. %s to fix.", text, english.Count(n, "fault"))
	}
	return text + "."
}
