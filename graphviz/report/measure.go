package report

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits/english"
	"dryfit/plan/blocking"
	"dryfit/plan/draft"
	"dryfit/plan/project"
)

// Measure reports on the meshes of some pieces; name is that of the folder, the file or
// the kit. It says what is wrong first, then how it goes together. With all it says all
// that was measured.
func Measure(name string, m *draft.Measurement, all bool) *Report {
	var b blocks
	b.heading("%s, measured along %d directions with lines %.3g mm apart", english.Count(len(m.Pieces), "piece"), m.Directions, m.Pitch)
	b.add(entries(m.Findings, false)...)
	if all {
		b.text("Obstacles as wide as a disc of %.3g mm or more are found; overlaps up to %.3g mm deep count as touching, and gaps up to %s mm as near.", blocking.Found*m.Pitch, m.Depth, english.Number(m.Fit, 2))
		b.add(measuredPieces(m))
		b.heading("Assembly")
		for i, s := range m.Steps {
			b.add(document.Step{ID: document.StepID(i + 1), Number: i + 1, Title: s.Text})
		}
	} else if len(m.Builds) > 0 {
		b.heading("Assembly")
		b.add(builds(m))
	}
	if len(m.Spaces) > 0 {
		b.heading("Spaces")
		b.bullets(spaces(m, all))
	}
	b.text("%s", m.Verdict())
	return &Report{OK: m.OK, Report: document.Report{Document: newDocument(name, b), Data: m}}
}

// builds has a row for each sub-build: what is fitted to its base, copies together.
func builds(m *draft.Measurement) document.Table {
	var rows [][]string
	for _, b := range m.Builds {
		rows = append(rows, []string{b.Build, b.Base, strings.Join(copies(b.Pieces), ", ")})
	}
	return document.NewTable([]string{"build", "on", "in this order"}, rows...)
}

// copies lists the ids of pieces, with copies of one part that follow each other as one.
func copies(ids []string) []string {
	var list []string
	last, count := "", 0
	put := func() {
		if count > 1 {
			list[len(list)-1] = fmt.Sprintf("%s (%d)", last, count)
		}
	}
	for _, id := range ids {
		part, number := project.CopyOf(id)
		if number != "" && part == last {
			count++
			continue
		}
		put()
		list = append(list, id)
		last, count = part, 1
		if number == "" {
			last = ""
		}
	}
	put()
	return list
}

// spaces tells each space in a line.
func spaces(m *draft.Measurement, all bool) []string {
	var lines []string
	for _, s := range m.Spaces {
		if all {
			lines = append(lines, s.Text)
			continue
		}
		var closers []string
		for _, c := range s.Closers {
			closers = append(closers, c.Piece)
		}
		text := fmt.Sprintf("%s, %.1f cm3, closed by %s", s.Name, s.Volume/1000, strings.Join(closers, ", "))
		if len(s.Holds) > 0 {
			text += "; holds " + english.And(copies(s.Holds), 6)
		}
		lines = append(lines, text)
	}
	return lines
}

// measuredPieces has a row for each piece; copies of the same size share one.
func measuredPieces(m *draft.Measurement) document.Table {
	var rows [][]string
	mm := func(v float64) string { return fmt.Sprintf("%.2f", v) }
	last, count := "", 0
	for _, c := range m.Pieces {
		row := []string{c.Piece, mm(c.Size[0]), mm(c.Size[1]), mm(c.Size[2]), fmt.Sprintf("%.1f", c.Volume), fmt.Sprintf("%.1f", c.Area), strconv.Itoa(c.Triangles), mm(c.ThinnestWall)}
		part, number := project.CopyOf(c.Piece)
		same := part + strings.Join(row[1:], " ")
		if count++; number == "" || same != last {
			rows, last, count = append(rows, row), same, 1
			continue
		}
		rows[len(rows)-1][0] = fmt.Sprintf("%s (%d)", part, count)
	}
	return document.NewTable([]string{"piece", "x mm", "y mm", "z mm", "volume mm3", "area mm2", "triangles", "thinnest mm"}, rows...)
}
