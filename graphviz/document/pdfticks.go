package document

// Ticks: a square, then what it is for.
const (
	tickInset  = 4.0
	tickSquare = 3.6
	tickIndent = tickInset + tickSquare + 2.5
	tickRoom   = 1.6 // between items
)

// ticks is a framed list with a square before each item. A long one is in two
// columns, so that the step it belongs to still fits on a page.
func (s *setter) ticks(t Ticks, width float64) []*piece {
	const many = 12
	var list []*piece
	for _, a := range lineAtoms(boldStyle, s.wrap(boldStyle, textWidth-2*tickInset, run{text: t.Title})) {
		list = append(list, &piece{height: a.height, keep: true, paint: func(c *canvas, x, y float64) { a.paint(c, x+tickInset, y) }})
	}
	if n := len(t.Items); n > many {
		const half = textWidth / 2
		list = append(list, side(0, nil, s.tickColumn(0, half, t.Items[:(n+1)/2]), s.tickColumn(half, half, t.Items[(n+1)/2:]))...)
	} else {
		for _, a := range s.tickColumn(0, textWidth, t.Items).atoms {
			list = append(list, &piece{height: a.height, paint: a.paint})
		}
	}
	if len(list) == 0 {
		return nil
	}
	return framed(list, textWidth, width, 0)
}

// tickColumn is items one below the other, with a line an atom.
func (s *setter) tickColumn(x, width float64, items []string) column {
	col := column{x: x}
	for _, item := range items {
		lines := s.wrap(bodyStyle, width-tickIndent-tickInset, run{text: item})
		for i, l := range lines {
			room := 0.0
			if i == 0 {
				room = tickRoom
			}
			col.atoms = append(col.atoms, atom{room + bodyStyle.leading(), func(c *canvas, x, y float64) {
				if i == 0 {
					c.frame(x+tickInset, y+room+(bodyStyle.leading()-tickSquare)/2, tickSquare, tickSquare, 0.35)
				}
				c.line(x+tickIndent, y+room, bodyStyle, l)
			}})
		}
	}
	return col
}
