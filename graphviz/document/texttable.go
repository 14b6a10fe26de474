package document

import (
	"regexp"
	"slices"
	"strings"
)

// figures is a cell of a column that is set to the right: numbers, a time or nothing.
var figures = regexp.MustCompile(`^~?-?[0-9][0-9.:, -]*\*?$|^$`)

// leastLast is the room below which the last column of a table is not wrapped, in
// characters.
const leastLast = 30

// table sets each column as wide as its widest cell, numbers to the right; the last
// column is wrapped.
func (t *terminal) table(of Table) {
	if of.Caption != "" {
		t.heading(of.Caption)
	}
	rows := [][]string{make([]string, len(of.Head))}
	for i, head := range of.Head {
		rows[0][i] = oneLine(head)
	}
	for _, r := range of.Rows {
		rows = append(rows, cellTexts(r))
	}
	wide, right := columns(rows)
	for i, row := range rows {
		if i == 0 && strings.Join(row, "") == "" {
			continue
		}
		line := " "
		last := len(row) - 1
		for k := range last {
			line += " " + padded(row[k], wide[k], right[k]) + " "
		}
		line += " "
		switch {
		case last < 0:
		case right[last]:
			t.line(line + padded(row[last], wide[last], true))
		case length(line) > LineWidth-leastLast:
			t.line(line + row[last])
		default:
			t.wrap(line, length(line), row[last])
		}
	}
}

// cellTexts are the cells of a row as plain text.
func cellTexts(r Row) []string {
	list := make([]string, len(r.Cells))
	for i, c := range r.Cells {
		list[i] = cellText(c)
	}
	return list
}

func cellText(c Cell) string {
	var list []string
	if c.Tick {
		list = append(list, "[ ]")
	}
	if c.Text != "" {
		list = append(list, oneLine(c.Text))
	}
	var links []string
	for _, l := range c.Links {
		links = append(links, oneLine(l.Text))
	}
	if links != nil {
		list = append(list, strings.Join(links, ", "))
	}
	return strings.Join(list, " ")
}

// columns finds how wide each column is, and which hold numbers only.
func columns(rows [][]string) (wide []int, right []bool) {
	for n, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide, right = append(wide, 0), append(right, true)
			}
			wide[i] = max(wide[i], length(cell))
			right[i] = right[i] && (n == 0 || figures.MatchString(cell))
		}
	}
	for i := range right {
		empty := !slices.ContainsFunc(rows[1:], func(row []string) bool { return i < len(row) && row[i] != "" })
		right[i] = right[i] && !empty
	}
	return wide, right
}
