package document

import "math"

// table sets rows below heads that are repeated on each page.
func (s *setter) table(t Table) []*piece {
	widths := s.columnWidths(t)
	if len(widths) == 0 {
		return s.lines(boldStyle, 4, 0, t.Caption)
	}
	caption := s.lines(boldStyle, 4, 0, t.Caption)
	head := s.head(t, widths)
	var again []*piece
	if height(head) <= maxRepeat {
		again = head
	}
	list := append(caption, head...)
	keepAll(list)
	if len(list) > 0 {
		list[len(list)-1].keep = true
		list[0].before = 4
	}
	for i, r := range t.Rows {
		row := s.row(r, widths)
		row[0].ids = []string{r.ID}
		if i == 0 && len(list) == 0 {
			row[0].before = 4
		}
		for _, p := range row {
			p.again = again
		}
		// No row stands alone on the first or the last page of a table.
		row[len(row)-1].keep = i == 0 && len(t.Rows) > 1 || i == len(t.Rows)-2
		list = append(list, row...)
	}
	return append(list, &piece{height: 2})
}

const cellPad = 1.6

// columnWidths in mm, from their shares. Shares that make no sense are not used, and
// where a word of a head would be broken the other columns make room for it.
func (s *setter) columnWidths(t Table) []float64 {
	widths := shared(t)
	least := make([]float64, len(widths))
	lack, spare := 0.0, 0.0
	for i := range widths {
		if i < len(t.Head) {
			least[i] = s.widestWord(headStyle, t.Head[i]) + 2*cellPad + small
		}
		lack += max(0, least[i]-widths[i])
		spare += max(0, widths[i]-least[i])
	}
	if lack == 0 || lack > spare {
		return widths
	}
	for i := range widths {
		if widths[i] < least[i] {
			widths[i] = least[i]
		} else {
			widths[i] -= (widths[i] - least[i]) * lack / spare
		}
	}
	return widths
}

func (s *setter) widestWord(look style, text string) float64 {
	w := 0.0
	for _, word := range s.words([]run{{text: text}}) {
		w = max(w, s.width(look, word.text))
	}
	return w
}

// shared are the widths of columns by their shares alone.
func shared(t Table) []float64 {
	n := len(t.Head)
	for _, r := range t.Rows {
		n = max(n, len(r.Cells))
	}
	sum, good := 0.0, len(t.Widths) == n
	for _, w := range t.Widths {
		good = good && w > 0 && !math.IsInf(w, 0)
		sum += w
	}
	widths := make([]float64, n)
	for i := range widths {
		widths[i] = textWidth / float64(n)
		if good {
			widths[i] = textWidth * t.Widths[i] / sum
		}
	}
	return widths
}

func (s *setter) head(t Table, widths []float64) []*piece {
	if len(t.Head) == 0 {
		return nil
	}
	var cols []column
	x := 0.0
	for i, h := range t.Head {
		cols = append(cols, column{x + cellPad, lineAtoms(headStyle, s.wrap(headStyle, widths[i]-2*cellPad, run{text: h}))})
		x += widths[i]
	}
	return side(1.4, func(c *canvas, x, y, h float64) {
		c.block(x, y, textWidth, h, 230)
		c.rule(x, y+h, x+textWidth, y+h, 0.4, 0)
	}, cols...)
}

func (s *setter) row(r Row, widths []float64) []*piece {
	var cols []column
	x := 0.0
	for i, cell := range r.Cells {
		cols = append(cols, s.cell(cell, x+cellPad, widths[i]-2*cellPad)...)
		x += widths[i]
	}
	return side(1.3, func(c *canvas, x, y, h float64) {
		c.rule(x, y+h, x+textWidth, y+h, 0.15, 140)
	}, cols...)
}

// cell is a stack of what it holds, with a tick square at its left if it has one.
func (s *setter) cell(cell Cell, x, width float64) []column {
	const square = 3.4
	var cols []column
	if cell.Tick {
		cols = append(cols, column{x, []atom{{cellStyle.leading(), func(c *canvas, x, y float64) {
			c.frame(x, y+(cellStyle.leading()-square)/2, square, square, 0.35)
		}}}})
		x += square + 2
		width -= square + 2
	}
	var atoms []atom
	text := s.wrap(cellStyle, width, run{text: cell.Text})
	atoms = append(atoms, lineAtoms(cellStyle, text)...)
	if p := s.picture(cell.Picture, width, maxPicture); p.height > 0 {
		if len(atoms) > 0 {
			atoms = append(atoms, gap(1))
		}
		atoms = append(atoms, p.atom)
	}
	var runs []run
	for i, l := range cell.Links {
		if i < len(cell.Links)-1 {
			l.Text += ","
		}
		runs = append(runs, run{text: l.Text, link: l.ID}, run{text: " "})
	}
	atoms = append(atoms, lineAtoms(cellStyle, s.wrap(cellStyle, width, runs...))...)
	return append(cols, column{x, atoms})
}
