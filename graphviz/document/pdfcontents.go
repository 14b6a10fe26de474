package document

import (
	"strconv"
)

// chapterPlace is an ID that no chapter of a book has, as theirs have no slash.
func chapterPlace(number int) string { return "/" + strconv.Itoa(number) }

// contents is the table of contents. Its page numbers are looked up as it is painted:
// it is as high with any.
func (s *setter) contents(chapters []Chapter) []*piece {
	var rows []*piece
	for i, c := range chapters {
		if c.Title != "" {
			rows = append(rows, s.entry(i, c)...)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	list := s.big(s.book.Fixed.Contents)
	list[0].newPage = true
	rows[0].before = 3
	return append(list, rows...)
}

// entry is the title of a chapter and its page.
func (s *setter) entry(number int, c Chapter) []*piece {
	const numbers = 14.0
	look, page := bodyStyle, chapterPlace(number)
	lines := s.wrap(look, textWidth-numbers-30, run{text: c.Title})
	var atoms []atom
	for i, l := range lines {
		atoms = append(atoms, atom{look.leading(), func(c *canvas, x, y float64) {
			c.line(x, y, look, l)
			c.link(x, y, textWidth, look.leading(), page)
			if i < len(lines)-1 {
				return
			}
			end := x + l.width
			text := strconv.Itoa(c.pages[page])
			at := x + textWidth - s.width(look, text)
			c.dots(end+2, at-2, y+look.baseline()-0.2)
			c.text(at, y+look.baseline(), look, text)
		}})
	}
	return side(0.55, nil, column{0, atoms})
}
