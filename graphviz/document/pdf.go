package document

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"

	"dryfit/graphviz/fonts"
	"dryfit/graphviz/svg"
)

// pdfMark says in the file what made it.
const pdfMark = svg.Mark

// pdfDate is a fixed date: the same book gives the same bytes.
var pdfDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// PDF sets the book on A4 pages, with bookmarks, links and embedded fonts, to be
// printed in black or read on a screen. The same book gives the same bytes. Letters
// that the font has not are boxes, see [Document.Unprintable]. It fails only if a picture
// is no PNG.
func (b *Document) PDF() ([]byte, error) {
	pdf := newPDF()
	pages, l, err := b.layout(pdf)
	if err != nil {
		return nil, err
	}
	b.describe(pdf)
	c := &canvas{pdf: pdf, links: map[string]int{}, images: map[string]bool{}}
	c.aim(pages)
	foot := b.foot(l, len(pages))
	for i, page := range pages {
		pdf.AddPage()
		for _, p := range page {
			c.place(p)
		}
		foot(c, i+1)
	}
	if c.err != nil {
		return nil, c.err
	}
	var out bytes.Buffer
	err = pdf.Output(&out)
	return out.Bytes(), err
}

// OursPDF reports whether dryfit made a PDF, by the mark in it.
func OursPDF(file []byte) bool {
	return bytes.HasPrefix(file, []byte("%PDF-")) && bytes.Contains(file, []byte("/Producer ("+pdfMark+")"))
}

// Unprintable are the characters of the book that its PDF shows as boxes, each once,
// in the sequence of their numbers. The titles and bookmarks that a reader shows
// beside the pages have them still.
func (b *Document) Unprintable() []rune {
	_, l, err := b.layout(newPDF())
	if err != nil {
		return nil
	}
	b.foot(l, 1)
	return l.unprintable()
}

// newPDF has the fonts and no page yet.
func newPDF() *fpdf.Fpdf {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCreationDate(pdfDate)
	pdf.SetModificationDate(pdfDate)
	pdf.SetCatalogSort(true)
	pdf.SetProducer(pdfMark, false)
	pdf.SetAutoPageBreak(false, 0)
	for _, weight := range []string{"", "B", "I"} {
		pdf.AddUTF8FontFromBytes(bookFont, weight, fonts.Sans(weight == "B", weight == "I"))
	}
	return pdf
}

// layout sets the book on its pages before any is written, so that all page numbers
// are known.
func (b *Document) layout(pdf *fpdf.Fpdf) ([][]placed, *letters, error) {
	l, err := newLetters(pdf)
	if err != nil {
		return nil, nil, err
	}
	s := &setter{l, b}
	return flow(s.pieces()), l, nil
}

// language is what may stand in a file without being escaped, and all that a language
// tag is made of (RFC 5646, section 2.1).
var language = regexp.MustCompile(`^[A-Za-z0-9-]{2,35}$`)

func (b *Document) describe(pdf *fpdf.Fpdf) {
	pdf.SetTitle(unseen(b.Title), true)
	pdf.SetSubject(unseen(b.Subtitle), true)
	if language.MatchString(b.Language) {
		pdf.SetLang(b.Language)
	}
}

// unseen is a text for what stands in the file but not on a page: the reader has
// fonts for it. The library cannot write characters beyond the basic plane.
func unseen(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Cf, r):
			return -1
		case unicode.IsControl(r):
			return ' '
		case r > 0xFFFF:
			return unicode.ReplacementChar
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// aim lets links lead to where things stand.
func (c *canvas) aim(pages [][]placed) {
	page, y, ids := places(pages)
	c.pages = page
	for _, id := range ids {
		c.links[id] = c.pdf.AddLink()
		c.pdf.SetLink(c.links[id], margin+y[id]-2, page[id])
	}
}

func (c *canvas) place(p placed) {
	if p.mark != nil {
		c.pdf.SetFont(bookFont, "", 10) // the library takes the coding of the font
		c.pdf.Bookmark(unseen(p.mark.text), p.mark.level, margin+p.y-2)
	}
	if p.paint != nil {
		p.paint(c, margin, margin+p.y)
	}
}

// foot paints what stands below each page: the words of the book, as far as there is
// room for them, and the number of the page.
func (b *Document) foot(l *letters, pages int) func(c *canvas, page int) {
	format := b.Fixed.PageOf
	if format == "" {
		format = "%[1]s / %[2]s"
	}
	text := l.oneLine(b.Footer)
	const most = textWidth - 45
	if l.width(smallStyle, text) > most {
		text, _ = l.split(smallStyle, text, most)
		text += "…"
	}
	return func(c *canvas, page int) {
		c.text(margin, footLine, smallStyle, text)
		number := l.oneLine(fmt.Sprintf(format, strconv.Itoa(page), strconv.Itoa(pages)))
		c.text(pageWidth-margin-l.width(smallStyle, number), footLine, smallStyle, number)
	}
}
