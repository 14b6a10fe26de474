package booklet

import (
	"strconv"

	"dryfit/graphviz/document"
)

// amounts is the table of what is printed, painted and glued with, and how much of it.
func (m *maker) amounts() document.Table {
	t := document.Table{Caption: m.l.Say("amounts.title"), Widths: []float64{2, 4, 6},
		Head: []string{m.l.Say("amounts.what"), m.l.Say("amounts.name"), m.l.Say("amounts.much")}}
	add := func(what, name, much string) {
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: m.l.Say("amounts." + what)}, {Text: name}, {Text: much}}})
	}
	for _, x := range m.totals.Prints {
		key := "amounts.grams"
		if x.AtMost {
			key = "amounts.most-grams"
		}
		much := m.l.Say(key, "n", m.l.Number(x.Mass, 0))
		if x.Packages > 0 {
			much = m.l.Say("amounts.packages", "mass", much, "n", strconv.Itoa(x.Packages), "size", m.l.Number(x.Of.Package, 0))
		}
		add("print", x.Of.ID, much)
	}
	for _, x := range m.totals.Paints {
		name := x.Colour
		if name == "" {
			name = m.l.Say("amounts.no-colour")
		}
		key := "amounts.paint-value"
		if x.Unknown != nil {
			key = "amounts.paint-unsized"
		}
		add("paint", name, m.l.Say(key, "n", strconv.Itoa(len(x.Unknown)), "ml", m.l.Number(x.Colours, 0), "primer", m.l.Number(x.Primer, 0), "area", m.l.Number(x.Area, 0)))
	}
	for _, g := range m.totals.Glues {
		add("glue", m.fixing(g.Fixing), m.l.Say("amounts.glue-value", "ml", m.l.Number(g.ML, 1), "area", m.l.Number(g.Area, 0)))
	}
	return t
}
