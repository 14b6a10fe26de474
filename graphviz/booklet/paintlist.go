package booklet

import (
	"slices"
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/bill"
)

// paintStages are the times at which parts are painted, in their usual sequence.
var paintStages = []string{kits.PaintBeforeFit, kits.PaintBeforeClose, kits.PaintOutside, kits.PaintOffModel, kits.PaintMasked}

// paintList is the list of what is painted when, a table for each stage.
func (m *maker) paintList() ([]document.Chapter, error) {
	blocks := []document.Block{document.Text(m.l.Say("paint.intro"))}
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
			t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: m.numbers.Of(p)}, {Text: timesSigns(p.Name)}, {Text: p.Colour}, {Text: m.paintedBy(p)}}})
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

// paintedBy words the step before which, or in which, a part is painted.
func (m *maker) paintedBy(p *kits.Part) string {
	first := func(found func(v int) bool) int {
		for _, v := range m.q.Order {
			if found(v) {
				return m.q.Place[v]
			}
		}
		return 0
	}
	isOf := func(piece int) bool { return piece >= 0 && m.kit.Pieces[piece].Part == p }
	place, key := 0, "paint.before"
	switch p.Paint {
	case kits.PaintOutside:
		key = "paint.at"
		place = first(func(v int) bool { t := m.rules.Steps[v].Task; return t != nil && t.Coat })
	case kits.PaintBeforeClose:
		place = first(func(v int) bool {
			return slices.ContainsFunc(m.q.LastCall(v), func(c plan.Call) bool { return c.What == progress.TickPaint && isOf(c.Piece) }) ||
				slices.ContainsFunc(m.q.PaintInside(v), isOf)
		})
	case kits.PaintMasked:
		key = "paint.at"
		place = first(func(v int) bool { t := m.rules.Steps[v].Task; return t != nil && t.Coat })
	case kits.PaintBeforeFit, kits.PaintOffModel:
		place = first(func(v int) bool { return slices.ContainsFunc(m.q.PaintFirst(v), isOf) })
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
