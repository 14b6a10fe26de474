package document

import "strconv"

// step is all of a step: what to be warned of, its signs and what to take come before its
// picture.
// It is kept on one page if it fits on one; if not, its picture at least is kept with what
// comes before, and its number stands again on each page.
func (s *setter) step(step Step) []*piece {
	list := s.stepHead(step)
	for _, m := range step.Before {
		list = append(list, s.message(m)...)
	}
	if step.LastCall != nil {
		list = append(list, s.ticks(*step.LastCall, 0.9)...)
	}
	list = append(list, s.signs(step.Signs)...)
	list = append(list, s.take(step.Needs)...)
	if step.Figure != nil {
		list = append(list, s.figure(*step.Figure)...)
	}
	action := len(list)
	list = append(list, s.bullets(step.Notes, cellStyle, 2)...)
	for _, text := range step.Then {
		list = append(list, s.lines(asideStyle, 2, 0, text)...)
	}
	keepStep(list, action)
	list[len(list)-1].keep = false // of a head alone: it would hold on to the next step
	again := s.stepAgain(step)
	for _, p := range list[1:] {
		p.again = again
	}
	list[0].before = 5
	list[0].ids = append(list[0].ids, step.ID)
	list[0].mark = &bookmark{1, strconv.Itoa(step.Number) + "  " + step.Title}
	return list
}

// keepStep keeps all of a step on one page, or what comes before its notes. If neither
// fits on one, most of a page is kept together, so that the step starts at the top of
// one or not far from it.
func keepStep(list []*piece, action int) {
	const most = 0.75 * textHeight
	switch {
	case height(list) <= textHeight:
		keepAll(list)
	case height(list[:action]) <= textHeight:
		keepAll(list[:action])
	default:
		n := 1
		for n < len(list) && height(list[:n+1]) <= most {
			n++
		}
		keepAll(list[:n])
	}
}

// stepHead is the heading of a step, its number with its place at the right, and below it
// the action.
func (s *setter) stepHead(step Step) []*piece {
	name := s.wrap(numberStyle, 0.4*textWidth, run{text: s.numbered(step)})
	place := s.wrap(smallStyle, 0.55*textWidth, run{text: step.Place})
	wide := 0.0
	for _, l := range place {
		wide = max(wide, l.width)
	}
	drop := gap(numberStyle.baseline() - smallStyle.baseline()) // so that both stand on one line
	list := side(1, func(c *canvas, x, y, h float64) {
		c.rule(x, y, x+textWidth, y, 0.3, 0)
	}, column{0, lineAtoms(numberStyle, name)}, column{textWidth - wide, append([]atom{drop}, lineAtoms(smallStyle, place)...)})
	for _, text := range step.First {
		list = append(list, s.lines(asideStyle, 0, 0, text)...)
	}
	list = append(list, s.lines(actionStyle, 0, 0, step.Title)...)
	list[0].keep, list[len(list)-1].keep = true, true
	return list
}

var (
	numberStyle = style{points: 13, weight: "B"}
	actionStyle = style{points: 11, weight: "B"}
	asideStyle  = style{points: 11} // what is taken off and put back
)

// numbered is the name of a step: "Step 12".
func (s *setter) numbered(step Step) string {
	return s.oneLine(s.book.Fixed.Step + " " + strconv.Itoa(step.Number))
}

// stepAgain is the head of a step that goes on from the page before.
func (s *setter) stepAgain(step Step) []*piece {
	const room = 1.5
	look := style{points: 9.5, weight: "B", grey: 80}
	first := s.wrap(look, textWidth, run{text: s.numbered(step) + "  " + step.Title})
	return []*piece{{height: look.leading() + room, paint: func(c *canvas, x, y float64) {
		c.line(x, y, look, first[0])
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
			list[len(list)-1].before = 2
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
