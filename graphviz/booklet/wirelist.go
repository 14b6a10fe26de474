package booklet

import (
	"strings"

	"dryfit/graphviz/document"
)

// wires is the list of wires with their runs and ends.
func (m *maker) wires() ([]document.Chapter, error) {
	if len(m.kit.Wires) == 0 {
		return nil, nil
	}
	t := document.Table{Caption: m.l.Say("wires.caption"), Widths: []float64{3, 3, 3.4, 3, 1.8, 1.8, 1.3}, Head: []string{m.l.Say("wires.wire"), m.l.Say("wires.from"),
		m.l.Say("wires.through"), m.l.Say("wires.to"), m.l.Say("wires.across"), m.l.Say("wires.hole"), m.l.Say("parts.step")}}
	mm := func(v *float64) string {
		if v == nil {
			return ""
		}
		return m.l.Say("wires.mm", "mm", m.l.Number(*v, 2))
	}
	for _, v := range m.q.Order {
		w := m.rules.Steps[v].Wire
		if w == nil {
			continue
		}
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: w.ID}, {Text: m.piece(w.From)}, {Text: strings.Join(m.pieceNames(w.Through), ", ")}, {Text: m.piece(w.To)},
			{Text: mm(w.Across)}, {Text: mm(w.Hole)}, {Links: []document.Link{stepLink(m.q.Place[v])}}}})
	}
	return one("wires", m.l.Say("wires.title"), document.Text(m.l.Say("wires.intro")), t)
}
