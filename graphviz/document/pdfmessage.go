package document

// message is the signal word in a panel with what it is about beside it. A panel
// about injury is black and has the alert triangle; one about damage is white.
func (s *setter) message(m Message) []*piece {
	look, pad, before := bodyStyle, 1.9, 2.4
	if m.Short {
		look, pad, before = style{points: 9.5}, 0.2, 1.2
	}
	panel, wide := s.panel(m)
	text := lineAtoms(look, s.wrap(look, textWidth-wide-10, run{text: m.Text}))
	text = append([]atom{gap(max(0, (panelLine-look.leading())/2))}, text...)
	under := func(c *canvas, x, y, h float64) {
		if !m.Short {
			c.frame(x, y, textWidth, h, 0.7)
		}
	}
	left := pad
	if m.Short {
		left = 0
	}
	list := side(pad, under, column{left, panel}, column{left + wide + 4, text})
	list[0].before = before
	return list
}

// panelLine is the height of a line in a panel, in mm.
const panelLine = 6.4

// panel is the signal word with its triangle, a line an atom, and its width.
func (s *setter) panel(m Message) ([]atom, float64) {
	const most, edge = 60.0, 2.2
	word := style{points: 11, weight: "B"}
	sign := edge
	if m.Alert {
		word.grey = 255
		sign += triangleHeight/triangleSlope + 1.8
	}
	lines := s.wrap(word, most-sign-edge, run{text: m.Signal})
	wide := 36.0 // wide enough for most words, so that the texts below one another line up
	for _, l := range lines {
		wide = max(wide, sign+l.width+edge)
	}
	if len(lines) == 0 && m.Alert {
		lines = []line{{}}
	}
	var atoms []atom
	for i, l := range lines {
		left := sign
		if !m.Alert {
			left = (wide - l.width) / 2
		}
		atoms = append(atoms, atom{panelLine, func(c *canvas, x, y float64) {
			switch {
			case m.Alert:
				c.block(x, y, wide, panelLine+0.05, 0) // no seam below
			case len(lines) == 1:
				c.frame(x, y, wide, panelLine, 0.5)
			}
			if m.Alert && i == 0 {
				c.alert(x+edge, y+(panelLine-triangleHeight)/2, triangleHeight, 255, 0)
			}
			c.line(x+left, y+(panelLine-word.leading())/2, word, l)
		}})
	}
	return atoms, wide
}

const triangleHeight = 4.6

// gap is room in a column.
func gap(height float64) atom {
	return atom{height, func(*canvas, float64, float64) {}}
}
