package document

import (
	"maps"
	"slices"
	"strings"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"

	"dryfit/graphviz/fonts"
)

// style is how letters look.
type style struct {
	weight string  // "", "B" bold or "I" italic
	points float64 // size; nothing is set in less than 7.5, which is hard to read
	grey   int     // 0 black to 255 white
}

// The styles of the document.
var (
	bodyStyle    = style{points: 10}
	cellStyle    = style{points: 9}
	headStyle    = style{points: 8.5, weight: "B"}
	smallStyle   = style{points: 8, grey: 80}
	captionStyle = style{points: 9, weight: "I", grey: 50}
	boldStyle    = style{points: 10, weight: "B"}
)

const mmPerPoint = 25.4 / 72

// leading is the height of a line, in mm.
func (s style) leading() float64 { return s.points * mmPerPoint * 1.3 }

// baseline is where letters stand within the height of a line. The font reaches
// 0.905 above it and 0.212 below, in sizes; the rest is shared out.
func (s style) baseline() float64 { return s.points * mmPerPoint * (0.905 + (1.3-0.905-0.212)/2) }

// letters measures texts and knows what the font can show.
type letters struct {
	pdf     *fpdf.Fpdf // only asked for widths; it has no page yet when that is done
	widths  map[string]map[rune]float64
	font    *sfnt.Font
	buf     sfnt.Buffer
	shown   map[rune]bool
	missing map[rune]bool // what was asked for and cannot be shown
}

const bookFont = "book"

func newLetters(pdf *fpdf.Fpdf) (*letters, error) {
	font, err := sfnt.Parse(fonts.Sans(false, false))
	if err != nil {
		return nil, err
	}
	return &letters{
		pdf:     pdf,
		widths:  map[string]map[rune]float64{"": {}, "B": {}, "I": {}},
		font:    font,
		shown:   map[rune]bool{},
		missing: map[rune]bool{},
	}, nil
}

// width of a clean text in mm.
func (l *letters) width(s style, text string) float64 {
	known, w := l.widths[s.weight], 0.0
	for _, r := range text {
		one, ok := known[r]
		if !ok {
			l.pdf.SetFont(bookFont, s.weight, s.points)
			one = float64(l.pdf.GetStringSymbolWidth(string(r))) / 1000
			known[r] = one
		}
		w += one
	}
	return w * s.points * mmPerPoint
}

// The box that stands for what the font has no letter for.
const noLetter = '□'

// clean is a text as it can be set. Line breaks stay. What is not seen goes: above
// all what turns the direction of text. What cannot be shown becomes a box, and is
// remembered.
func (l *letters) clean(text string) string {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(text, "\r\n", "\n") {
		switch {
		case r == '\n' || r == '\r' || r == '\u0085' || r == '\u2028' || r == '\u2029':
			b.WriteByte('\n')
		case r == '\t' || r == '\v' || r == '\f':
			b.WriteByte(' ')
		case unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r):
		case r == '☐':
			b.WriteRune(noLetter) // the same square
		case r == '\u2011':
			b.WriteRune('\u2010') // only the latter is in the font; neither is broken after
		case l.shows(r):
			b.WriteRune(r)
		case unicode.Is(unicode.Zs, r):
			b.WriteByte(' ')
		default:
			l.missing[r] = true
			b.WriteRune(noLetter)
		}
	}
	return b.String()
}

// oneLine is a clean text without line breaks.
func (l *letters) oneLine(text string) string {
	return strings.Join(strings.Fields(l.clean(text)), " ")
}

// shows reports whether the font has a letter and the page would be right with it:
// letters that run from right to left would stand in the wrong sequence.
func (l *letters) shows(r rune) bool {
	ok, known := l.shown[r]
	if !known {
		g, err := l.font.GlyphIndex(&l.buf, r)
		ok = err == nil && g != 0 && r <= 0xFFFF && !unicode.IsControl(r) && !unicode.Is(unicode.Hebrew, r)
		l.shown[r] = ok
	}
	return ok
}

// unprintable are the characters that have become boxes.
func (l *letters) unprintable() []rune {
	return slices.Sorted(maps.Keys(l.missing))
}
