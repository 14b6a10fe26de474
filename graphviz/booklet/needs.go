package booklet

import (
	"slices"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/plan/bill"
)

// needs is the page of what the builder needs beside the parts.
func (m *maker) needs() ([]document.Chapter, error) {
	blocks := []document.Block{document.Heading(m.l.Say("needs.tools")), m.tools(), m.fixings()}
	if m.totals != nil {
		blocks = append(blocks, m.amounts(), document.Text(m.l.Say("amounts.note")))
	}
	return one("needs", m.l.Say("needs.title"), append(blocks, document.Text(m.l.Say("needs.supplier")))...)
}

// tools lists tools by kind: those that the work of this kit asks for (common
// practice), then those that the designer names.
func (m *maker) tools() document.Bullets {
	has := map[string]bool{}
	for _, h := range m.rules.Hazards() {
		has[h.ID] = true
	}
	used := func(kind string) bool {
		return slices.ContainsFunc(m.kit.Joins, func(j *kits.Join) bool { return j.Fixing != nil && j.Fixing.Kind == kind })
	}
	var list document.Bullets
	add := func(key string, needed bool) {
		if needed {
			list = append(list, m.l.Say("tool."+key))
		}
	}
	add("knife", true)
	add("files", true)
	add("tweezers", true)
	add("gloves", has["resin"] || has["epoxy"] || has["resin-glue"] || has["lead"] || has["fibre"])
	add("solder", has["soldering"])
	add("screwdriver", used(kits.Screw))
	add("paint", slices.ContainsFunc(m.kit.Parts, (*kits.Part).Painted))
	add("respirator", has["spray"])
	add("lamp", has["resin-glue"])
	for _, t := range m.kit.Tools {
		list = append(list, timesSigns(t))
	}
	return list
}

// fixings is the table of what joins are made with.
func (m *maker) fixings() document.Table {
	t := document.Table{Caption: m.l.Say("needs.adhesives"), Widths: []float64{4, 2, 2, 4},
		Head: []string{m.l.Say("needs.fixing"), m.l.Say("needs.handle"), m.l.Say("needs.cure"), m.l.Say("needs.steps")}}
	for _, u := range bill.Fixings(m.rep) {
		f := u.Fixing
		handle, cure := m.l.Say("needs.at-once"), m.l.Say("needs.at-once")
		if f.Handle > 0 {
			handle = m.l.Span(f.Handle)
		}
		if f.Cure > 0 {
			cure = m.l.Span(f.Cure)
		}
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: m.fixing(f)}, {Text: handle}, {Text: cure}, {Text: m.numbersOf(u.Steps)}}})
	}
	return t
}
