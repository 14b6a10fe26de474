package document

import "strconv"

// setter turns the blocks of a book into pieces.
type setter struct {
	*letters
	book *Document
}

// pieces are those of the whole book: front page, contents, chapters.
func (s *setter) pieces() []*piece {
	front, rest := s.front(), s.book.Chapters
	if len(rest) > 0 && rest[0].Title == "" {
		front = append(front, s.blocks(rest[0].Blocks)...)
		front[0].ids = append(front[0].ids, rest[0].ID)
		rest = rest[1:]
	}
	list := append(front, s.contents(rest)...)
	for i, c := range rest {
		list = append(list, s.chapter(i, c)...)
	}
	return list
}

// front is the title of the book, at the top of its first page.
func (s *setter) front() []*piece {
	title := style{points: 30, weight: "B"}
	list := []*piece{{height: 12, mark: &bookmark{0, s.book.Title}}}
	list = append(list, s.lines(title, 0, 0, s.book.Title)...)
	list = append(list, s.lines(style{points: 14, grey: 70}, 2, 0, s.book.Subtitle)...)
	return append(list, &piece{before: 4, height: 4, paint: func(c *canvas, x, y float64) {
		c.rule(x, y, x+textWidth, y, 0.8, 0)
	}})
}

func (s *setter) chapter(number int, c Chapter) []*piece {
	list := s.big(c.Title)
	list[0].newPage = true
	list[0].ids = []string{c.ID, chapterPlace(number)}
	if c.Title != "" {
		list[0].mark = &bookmark{0, c.Title}
	}
	return append(list, s.blocks(c.Blocks)...)
}

// big is the heading of a chapter, kept with what follows.
func (s *setter) big(title string) []*piece {
	list := s.lines(style{points: 20, weight: "B"}, 0, 0, title)
	list = append(list, &piece{before: 1.5, height: 2, paint: func(c *canvas, x, y float64) {
		c.rule(x, y, x+textWidth, y, 0.4, 0)
	}})
	keepAll(list)
	last := list[len(list)-1]
	last.keep, last.loose = true, true
	return list
}

func (s *setter) blocks(blocks []Block) []*piece {
	var list []*piece
	for i, b := range blocks {
		if t, ok := b.(Table); ok && i > 0 && blocks[i-1] == Block(Heading(t.Caption)) {
			t.Caption = "" // said right above
			b = t
		}
		set := s.block(b)
		if _, is := b.(Text); is && i+1 < len(blocks) && (i == 0 || isHeading(blocks[i-1])) && len(set) > 0 && len(set) <= introLines {
			keepAll(set)
			last := set[len(set)-1]
			last.keep, last.loose = true, true
		}
		list = append(list, set...)
	}
	return list
}

// introLines is the length of a text under a heading that is kept with what follows,
// as the heading is.
const introLines = 3

func isHeading(b Block) bool {
	_, is := b.(Heading)
	return is
}

func (s *setter) block(b Block) []*piece {
	switch b := b.(type) {
	case Heading:
		return s.heading(b)
	case Text:
		return s.lines(bodyStyle, 2.5, 0, string(b))
	case Facts:
		return s.facts(b)
	case Bullets:
		return s.bullets(b, bodyStyle, 2.5)
	case Ticks:
		return s.ticks(b, 0.3)
	case Message:
		return s.message(b)
	case Table:
		return s.table(b)
	case Figure:
		return s.figure(b)
	case Step:
		return s.step(b)
	case Entry:
		return s.marked(b)
	}
	return nil // there are no other blocks
}

func (s *setter) heading(h Heading) []*piece {
	list := s.lines(style{points: 13, weight: "B"}, 6, 0, string(h))
	for i, p := range list {
		p.keep, p.loose = true, i == len(list)-1
	}
	return list
}

// lines is a paragraph. No page starts or ends with a single line of it.
func (s *setter) lines(look style, before, indent float64, text string) []*piece {
	var list []*piece
	for _, l := range s.wrap(look, textWidth-indent, run{text: text}) {
		list = append(list, &piece{height: look.leading(), paint: func(c *canvas, x, y float64) {
			c.line(x+indent, y, look, l)
		}})
	}
	if n := len(list); n > 0 {
		list[0].before = before
		if n > 1 {
			list[0].keep, list[n-2].keep = true, true
		}
	}
	return list
}

func (s *setter) facts(facts Facts) []*piece {
	wide := 20.0
	for _, f := range facts {
		wide = max(wide, min(60, s.width(boldStyle, s.oneLine(f.Name))))
	}
	wide += 5
	var list []*piece
	for _, f := range facts {
		list = append(list, side(0.6, nil,
			column{0, lineAtoms(boldStyle, s.wrap(boldStyle, wide-5, run{text: f.Name}))},
			column{wide, lineAtoms(bodyStyle, s.wrap(bodyStyle, textWidth-wide, run{text: f.Value}))})...)
	}
	if len(list) > 0 {
		list[0].before = 3
	}
	return list
}

func (s *setter) bullets(items []string, look style, before float64) []*piece {
	return s.listed(items, look, before, 4, func(int) string { return "•" })
}

// listed is a list of which each item has its mark beside it, at the left of indent.
func (s *setter) listed(items []string, look style, before, indent float64, mark func(i int) string) []*piece {
	var list []*piece
	for i, item := range items {
		p := s.lines(look, 0.5, indent, item)
		if len(p) == 0 {
			continue
		}
		if i == 0 {
			p[0].before = before
		}
		beside(p[0], func(c *canvas, x, y float64) { c.text(x, y+look.baseline(), look, mark(i)) })
		list = append(list, p...)
	}
	return list
}

// marked is an entry: its title, its texts, and its lists one below the other.
func (s *setter) marked(e Entry) []*piece {
	const before, numbers = 0.8, 7
	list := s.lines(boldStyle, before, 0, e.Title)
	for _, text := range e.Texts {
		list = append(list, s.lines(bodyStyle, before, 0, text)...)
	}
	for _, l := range e.Lists {
		list = append(list, s.lines(bodyStyle, before, 0, l.Title)...)
		if l.Numbered {
			list = append(list, s.listed(l.Items, bodyStyle, before, numbers, func(i int) string { return strconv.Itoa(i+1) + "." })...)
		} else {
			list = append(list, s.bullets(l.Items, bodyStyle, before)...)
		}
	}
	if len(list) > 0 {
		list[0].before = 3
	}
	return list
}

// beside paints more on a piece.
func beside(p *piece, more func(c *canvas, x, y float64)) {
	was := p.paint
	p.paint = func(c *canvas, x, y float64) {
		more(c, x, y)
		was(c, x, y)
	}
}

// figure is a picture in the middle with its caption.
func (s *setter) figure(f Figure) []*piece {
	var list []*piece
	high := maxPicture
	if f.High > 0 {
		high = min(high, f.High)
	}
	if a := s.trimmed(f.Picture, textWidth, high); a.height > 0 {
		w := a.width
		list = append(list, &piece{before: 3, height: a.height, paint: func(c *canvas, x, y float64) {
			a.paint(c, x+(textWidth-w)/2, y)
		}})
	}
	for i, l := range s.wrap(captionStyle, textWidth, run{text: f.Caption}) {
		p := &piece{height: captionStyle.leading(), paint: func(c *canvas, x, y float64) {
			c.line(x+(textWidth-l.width)/2, y, captionStyle, l)
		}}
		if i == 0 {
			p.before = 0.8
		}
		list = append(list, p)
	}
	if len(list) > 1 {
		list[0].keep = true
	}
	return list
}
