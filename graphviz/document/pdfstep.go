package document

import "strconv"

// step is all of a step: what to take and what to be warned of come before its
// picture. It is kept on one page if it fits on one; if not, its picture at least is
// kept with what comes before, and its number stands again on each page.
func (s *setter) step(step Step) []*piece {
	parts, wide := s.partsBox(step.Needs)
	beside := s.fitsBeside(step.Title, parts, wide)
	list := s.stepHead(step, nil, 0)
	if beside {
		list = s.stepHead(step, parts, wide)
	}
	for _, m := range step.Before {
		list = append(list, s.message(m)...)
	}
	if step.LastCall != nil {
		list = append(list, s.ticks(*step.LastCall, 0.9)...)
	}
	if !beside {
		list = append(list, parts...)
	}
	if step.Figure != nil {
		list = append(list, s.figure(*step.Figure)...)
	}
	action := len(list)
	list = append(list, s.bullets(step.Notes, cellStyle, 2)...)
	list = append(list, s.signs(step.Signs)...)
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

const (
	numberSize = 11.0           // of the square, mm
	actionAt   = numberSize + 4 // where the action starts, beside it
	asideRoom  = 5.0            // between the action and a parts box beside it
)

var actionStyle = style{points: 13, weight: "B"}

// fitsBeside reports whether a parts box has room at the right of the action. There it
// takes no height of its own, so that more pages hold two steps.
func (s *setter) fitsBeside(title string, parts []*piece, wide float64) bool {
	const widest, highest, lines = 95.0, 36.0, 3
	return len(parts) > 0 && wide <= widest && height(parts) <= highest &&
		len(s.wrap(actionStyle, textWidth-actionAt-wide-asideRoom, run{text: title})) <= lines
}

// stepHead is the number in its square, with the place and the action beside it, and
// at their right the parts box, if any.
func (s *setter) stepHead(step Step, parts []*piece, wide float64) []*piece {
	room := textWidth - actionAt
	if len(parts) > 0 {
		room -= wide + asideRoom
	}
	words := lineAtoms(smallStyle, s.wrap(smallStyle, room, run{text: step.Place}))
	if len(words) == 0 {
		words = []atom{gap((numberSize - actionStyle.leading()) / 2)}
	}
	words = append(words, lineAtoms(actionStyle, s.wrap(actionStyle, room, run{text: step.Title}))...)
	number := []atom{{numberSize, func(c *canvas, x, y float64) { s.number(c, x, y, numberSize, step.Number) }}}
	cols := []column{{0, number}, {actionAt, words}}
	if len(parts) > 0 {
		cols = append(cols, column{textWidth - wide, []atom{stacked(parts)}})
	}
	list := side(2, func(c *canvas, x, y, h float64) {
		c.rule(x, y, x+textWidth, y, 0.3, 0)
	}, cols...)
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
