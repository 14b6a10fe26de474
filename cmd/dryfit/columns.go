package main

import (
	"strings"
	"unicode/utf8"
)

// columns is a table of plain text; the first row has the headings.
type columns [][]string

// print sets each column as wide as its widest cell.
func (c columns) print(p *printer) {
	var wide []int
	for _, row := range c {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range c {
		var b strings.Builder
		for i, cell := range row {
			b.WriteString("  " + cell + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)))
		}
		p.line("%s", strings.TrimRight(b.String(), " "))
	}
}
