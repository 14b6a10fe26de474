package booklet

import (
	"slices"
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan/bill"
)

// paintStages are the times at which parts are painted, in their usual sequence.
var paintStages = []string{kits.PaintBeforeFit, kits.PaintBeforeClose, kits.PaintOutside, kits.PaintOffModel, kits.PaintMasked}

// paintList is the list of what is painted when, a table for each stage.
func (m *maker) paintList() ([]document.Chapter, error) {
	blocks := []document.Block{document.Text(m.l.Say("paint.intro"))}
	before, coat := m.paintedBefore(), m.coat()
	for _, stage := range paintStages {
		t := document.Table{Caption: m.l.Say("paint." + stage), Widths: []float64{2, 6, 3, 4},
			Head: []string{m.l.Say("parts.reference"), m.l.Say("parts.name"), m.l.Say("paint.colour"), m.l.Say("paint.when")}}
		var parts []*kits.Part
		for _, p := range m.kit.Parts {
			if p.InModel() && p.Paint == stage {
				parts = append(parts, p)
			}
		}
		slices.SortStableFunc(parts, func(a, b *kits.Part) int { return bill.Natural(m.numbers.Of(a), m.numbers.Of(b)) })
		for _, p := range parts {
			t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: m.numbers.Of(p)}, {Text: timesSigns(p.Name)}, {Text: p.Colour}, {Text: m.paintedBy(p, before[p.Paint][p], coat)}}})
		}
		if t.Rows != nil {
			blocks = append(blocks, t)
		}
	}
	if len(blocks) == 1 {
		return nil, nil
	}
	return one("paint", m.l.Say("paint.title"), blocks...)
}

// paintedBefore has the first step before which each part is painted, by when that is.
func (m *maker) paintedBefore() map[string]map[*kits.Part]int {
	fit, closed := map[*kits.Part]int{}, map[*kits.Part]int{}
	note := func(places map[*kits.Part]int, piece, v int) {
		if piece < 0 {
			return
		}
		if p := m.kit.Pieces[piece].Part; places[p] == 0 {
			places[p] = m.q.Place[v]
		}
	}
	for _, v := range m.q.Order {
		for _, c := range m.q.LastCall(v) {
			if c.What == progress.TickPaint {
				note(closed, c.Piece, v)
			}
		}
		for _, piece := range m.q.PaintInside(v) {
			note(closed, piece, v)
		}
		for _, piece := range m.q.PaintFirst(v) {
			note(fit, piece, v)
		}
	}
	return map[string]map[*kits.Part]int{kits.PaintBeforeFit: fit, kits.PaintOffModel: fit, kits.PaintBeforeClose: closed}
}

// coat is the number of the step of the outside coat; 0 if there is none.
func (m *maker) coat() int {
	for _, v := range m.q.Order {
		if t := m.rules.Steps[v].Task; t != nil && t.Coat {
			return m.q.Place[v]
		}
	}
	return 0
}

// paintedBy words the step before which, or in which, a part is painted, given the first
// such step and that of the outside coat.
func (m *maker) paintedBy(p *kits.Part, place, coat int) string {
	key := "paint.before"
	if p.Paint == kits.PaintOutside || p.Paint == kits.PaintMasked {
		place, key = coat, "paint.at"
	}
	if place == 0 && p.Paint == kits.PaintBeforeClose {
		for _, l := range m.stepsOf(p)[:min(1, len(m.stepsOf(p)))] {
			place, _ = strconv.Atoi(l.Text)
		}
	}
	if place == 0 {
		return ""
	}
	return m.l.Say(key, "step", strconv.Itoa(place))
}
