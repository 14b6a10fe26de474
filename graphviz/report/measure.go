package report

import (
	"fmt"
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits/english"
	"dryfit/plan/draft"
)

// Measure reports on the meshes of some pieces; name is that of the folder, the
// file or the kit.
func Measure(name string, m *draft.Measurement) *Report {
	var b blocks
	b.heading("%s, measured along %d directions with lines %.3g mm apart", english.Count(len(m.Pieces), "piece"), m.Directions, m.Pitch)
	b.text("Obstacles as wide as a disc of %.3g mm or more are found; overlaps up to %.3g mm deep count as touching.", 1.5*m.Pitch, m.Depth)
	b.add(measuredPieces(m))
	touch := "touch"
	if m.Contacts() == 1 {
		touch = "touches"
	}
	b.text("%s of pieces %s.", english.Count(m.Contacts(), "pair"), touch)
	if len(m.Steps) > 0 {
		b.heading("Assembly")
		for i, s := range m.Steps {
			b.add(document.Step{ID: stepID(i + 1), Number: i + 1, Title: s.Text})
		}
	}
	if len(m.Spaces) > 0 {
		b.heading("Spaces")
		var lines []string
		for _, s := range m.Spaces {
			lines = append(lines, s.Text)
		}
		b.bullets(lines)
	}
	b.add(entries(m.Findings, false)...)
	b.text("%s", m.Verdict())
	return &Report{OK: m.OK, Report: document.Report{Document: newDocument(name, b), Data: m}}
}

func measuredPieces(m *draft.Measurement) document.Table {
	var rows [][]string
	mm := func(v float64) string { return fmt.Sprintf("%.2f", v) }
	for _, c := range m.Pieces {
		rows = append(rows, []string{c.Piece, mm(c.Size[0]), mm(c.Size[1]), mm(c.Size[2]), fmt.Sprintf("%.1f", c.Volume), fmt.Sprintf("%.1f", c.Area), strconv.Itoa(c.Triangles), mm(c.ThinnestWall)})
	}
	return document.NewTable([]string{"piece", "x mm", "y mm", "z mm", "volume mm3", "area mm2", "triangles", "thinnest mm"}, rows...)
}
