package booklet

import (
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits"
)

// hardware is the list of what is not printed, with spares, and of jigs and stock.
func (m *maker) hardware() ([]document.Chapter, error) {
	var inModel, extra []*kits.Part
	for _, p := range m.kit.Parts {
		switch {
		case !p.InModel():
			extra = append(extra, p)
		case !p.ToPrint():
			inModel = append(inModel, p)
		}
	}
	if len(inModel)+len(extra) == 0 {
		return nil, nil
	}
	var blocks []document.Block
	if len(inModel) > 0 {
		t, err := m.partsTable(m.l.Say("hardware.title"), inModel, true)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, document.Text(m.l.Say("hardware.intro")), t, document.Text(m.l.Say("hardware.suggested")))
	}
	if len(extra) > 0 {
		t := document.Table{Caption: m.l.Say("hardware.extra"), Widths: []float64{1.3, 1.6, 1.1, 5, 3, 6},
			Head: []string{m.l.Say("parts.have"), m.l.Say("parts.reference"), m.l.Say("parts.quantity"), m.l.Say("parts.name"), m.l.Say("parts.material"), m.l.Say("parts.remark")}}
		for _, p := range extra {
			remark := m.l.Say("class." + p.Class)
			if r := m.remark(p); r != "" {
				remark += "; " + r
			}
			t.Rows = append(t.Rows, document.Row{ID: m.partID(p), Cells: []document.Cell{{Tick: true}, {Text: m.numbers.Of(p)}, {Text: strconv.Itoa(p.Quantity)}, {Text: timesSigns(p.Name)}, {Text: m.material(p)}, {Text: remark}}})
		}
		blocks = append(blocks, t, document.Text(m.l.Say("hardware.extra.intro")))
	}
	return one("hardware", m.l.Say("hardware.title"), blocks...)
}

// spares words how many to have beyond those in the model, a suggestion with a star.
func (m *maker) spares(p *kits.Part) string {
	item := m.itemOf[p]
	text := strconv.Itoa(item.Spares)
	if item.Suggested {
		text += "*"
	}
	return text
}
