package booklet

import "strconv"

// step is all of a step: what to be warned of and what to take come before its
// picture. It is kept on one page if it fits on one; if not, its picture at least is
// kept with what comes before, and its number stands again on each page.
func (s *setter) step(step Step) []*piece {
	list := s.stepHead(step)
	for _, m := range step.Before {
		list = append(list, s.message(m)...)
	}
	if step.LastCall != nil {
		list = append(list, s.ticks(*step.LastCall, 0.9)...)
	}
	list = append(list, s.partsBox(step.Needs)...)
	if step.Figure != nil {
		list = append(list, s.figure(*step.Figure)...)
	}
	action := len(list)
	list = append(list, s.bullets(step.Notes, style{points: 9.5}, 3)...)
	list = append(list, s.signs(step.Signs)...)
	if height(list) <= textHeight {
		keepAll(list)
	} else if height(list[:action]) <= textHeight {
		keepAll(list[:action])
	}
	again := s.stepAgain(step)
	for _, p := range list[1:] {
		p.again = again
	}
	list[0].before = 7
	list[0].ids = append(list[0].ids, step.ID)
	list[0].mark = &bookmark{1, strconv.Itoa(step.Number) + "  " + step.Title}
	return list
}

const numberSize = 11.0 // of the square, mm

// stepHead is the number in its square, with the place and the action beside it.
func (s *setter) stepHead(step Step) []*piece {
	const x = numberSize + 4
	title := style{points: 13, weight: "B"}
	words := lineAtoms(smallStyle, s.wrap(smallStyle, textWidth-x, run{text: step.Place}))
	if len(words) == 0 {
		words = []atom{gap((numberSize - title.leading()) / 2)}
	}
	words = append(words, lineAtoms(title, s.wrap(title, textWidth-x, run{text: step.Title}))...)
	number := []atom{{numberSize, func(c *canvas, x, y float64) { s.number(c, x, y, numberSize, step.Number) }}}
	list := side(2, func(c *canvas, x, y, h float64) {
		c.rule(x, y, x+textWidth, y, 0.3, 0)
	}, column{0, number}, column{x, words})
	list[len(list)-1].keep = true
	return list
}

// number is a number in a square, in letters as large as the square allows.
func (s *setter) number(c *canvas, x, y, size float64, number int) {
	text := strconv.Itoa(number)
	look := style{points: size * 1.55, weight: "B", grey: 255}
	if w := s.width(look, text); w > size*0.84 {
		look.points *= size * 0.84 / w
	}
	c.block(x, y, size, size, 0)
	const capital = 0.69 // height of a digit, in sizes of the letters
	c.text(x+(size-s.width(look, text))/2, y+(size+look.points*mmPerPoint*capital)/2, look, text)
}

// stepAgain is the head of a step that goes on from the page before.
func (s *setter) stepAgain(step Step) []*piece {
	const size = 6.5
	look := style{points: 9.5, weight: "B", grey: 80}
	first := s.wrap(look, textWidth-size-3, run{text: step.Title})
	return []*piece{{height: size + 2, paint: func(c *canvas, x, y float64) {
		s.number(c, x, y, size, step.Number)
		if len(first) > 0 {
			c.line(x+size+3, y+(size-look.leading())/2, look, first[0])
		}
	}}}
}

// signs are short words in round frames, side by side. A sign that is no short word
// is set as a note.
func (s *setter) signs(signs []string) []*piece {
	const high, pad, room = 6.4, 3.2, 3.0
	look := style{points: 9.5, weight: "B"}
	var list []*piece
	var row []column
	x := 0.0
	end := func() {
		if len(row) > 0 {
			list = append(list, side(0, nil, row...)...)
			list[len(list)-1].before = 2.5
		}
		row, x = nil, 0
	}
	for _, sign := range signs {
		lines := s.wrap(look, textWidth-2*pad, run{text: sign})
		if len(lines) != 1 {
			end()
			list = append(list, s.lines(look, 2.5, 0, sign)...)
			continue
		}
		wide := lines[0].width + 2*pad
		if x+wide > textWidth {
			end()
		}
		row = append(row, column{x, []atom{{high, func(c *canvas, x, y float64) {
			c.rounded(x+0.2, y, wide-0.2, high, high/2, 0.4)
			c.line(x+pad, y+(high-look.leading())/2, look, lines[0])
		}}}})
		x += wide + room
	}
	end()
	return list
}
