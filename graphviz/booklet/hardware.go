package booklet

import (
	"math"
	"strconv"

	"dryfit/kits"
)

// hardware is the list of what is not printed, with spares, and of jigs and stock.
func (m *maker) hardware() ([]Chapter, error) {
	var inModel, extra []*kits.Part
	for _, p := range m.kit.Parts {
		switch {
		case !p.InModel():
			extra = append(extra, p)
		case !isPrinted(p):
			inModel = append(inModel, p)
		}
	}
	if len(inModel)+len(extra) == 0 {
		return nil, nil
	}
	var blocks []Block
	if len(inModel) > 0 {
		t, err := m.partsTable(m.l.Say("hardware.title"), inModel, true)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, Text{m.l.Say("hardware.intro")}, t, Text{m.l.Say("hardware.suggested")})
	}
	if len(extra) > 0 {
		t := Table{Caption: m.l.Say("hardware.extra"), Widths: []float64{1.3, 1.6, 1.1, 5, 3, 6},
			Head: []string{m.l.Say("parts.have"), m.l.Say("parts.reference"), m.l.Say("parts.quantity"), m.l.Say("parts.name"), m.l.Say("parts.material"), m.l.Say("parts.remark")}}
		for _, p := range extra {
			remark := m.l.Say("class." + p.Class)
			if r := m.remark(p); r != "" {
				remark += "; " + r
			}
			t.Rows = append(t.Rows, Row{ID: m.partID(p), Cells: []Cell{{Tick: true}, {Text: m.numbers.byPart[p]}, {Text: strconv.Itoa(p.Quantity)}, {Text: p.Name}, {Text: m.material(p)}, {Text: remark}}})
		}
		blocks = append(blocks, Text{m.l.Say("hardware.extra.intro")}, t)
	}
	return one("hardware", m.l.Say("hardware.title"), blocks...)
}

// smallThing is the longest side, in mm, of what is easily lost.
const smallThing = 15

// spares words how many to have beyond those in the model: what the kit says or, for
// small things, one or a tenth (common practice), marked as a suggestion.
func (m *maker) spares(p *kits.Part) string {
	if p.Spares > 0 {
		return strconv.Itoa(p.Spares)
	}
	if p.Size == nil || math.Max(p.Size.XYZ[0], math.Max(p.Size.XYZ[1], p.Size.XYZ[2])) > smallThing || !p.Bought {
		return "0"
	}
	return strconv.Itoa(max(1, int(math.Ceil(float64(p.Quantity)/10)))) + "*"
}
