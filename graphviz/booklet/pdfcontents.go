package booklet

import (
	"fmt"
	"strconv"
	"unicode"
	"unicode/utf8"
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

// entry is the title of a chapter, the steps in it, and its page.
func (s *setter) entry(number int, c Chapter) []*piece {
	const numbers = 14.0
	look, page := bodyStyle, chapterPlace(number)
	lines := s.wrap(look, textWidth-numbers-30, run{text: c.Title})
	steps := s.steps(c)
	var atoms []atom
	for i, l := range lines {
		atoms = append(atoms, atom{look.leading(), func(c *canvas, x, y float64) {
			c.line(x, y, look, l)
			c.link(x, y, textWidth, look.leading(), page)
			if i < len(lines)-1 {
				return
			}
			end := x + l.width
			// Beside a long title there is no room for the steps.
			if wide := 3 + s.width(smallStyle, steps); steps != "" && end+wide < x+textWidth-numbers {
				c.text(end+3, y+look.baseline(), smallStyle, steps)
				end += wide
			}
			text := strconv.Itoa(c.pages[page])
			at := x + textWidth - s.width(look, text)
			c.dots(end+2, at-2, y+look.baseline()-0.2)
			c.text(at, y+look.baseline(), look, text)
		}})
	}
	return side(0.55, nil, column{0, atoms})
}

// steps says which steps a chapter has.
func (s *setter) steps(c Chapter) string {
	first, last := 0, 0
	for _, b := range c.Blocks {
		if step, ok := b.(Step); ok {
			if first == 0 {
				first = step.Number
			}
			last = step.Number
		}
	}
	word := s.oneLine(capital(s.book.Fixed.Step))
	switch first {
	case 0:
		return ""
	case last:
		return fmt.Sprintf("%s %d", word, first)
	}
	return fmt.Sprintf("%s %d–%d", word, first, last)
}

// capital is a word with a capital letter at its start.
func capital(word string) string {
	r, n := utf8.DecodeRuneInString(word)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + word[n:]
}
