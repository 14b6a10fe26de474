package document

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/picture"
)

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"Größe ½ Ωμέγα Шпунт → ≤ 2 × 3 № 4": "Größe ½ Ωμέγα Шпунт → ≤ 2 × 3 № 4",
		"a\r\nb\rc\u2028d":                 "a\nb\nc\nd",
		"a\tb\vc":                          "a b c",
		"\u202egnp.exe\u2066x\u2069\u200f": "gnp.exex",
		"soft\u00adhyphen\ufeff":           "softhyphen",
		"⚠\ufe0f":                          "□",
		"☐ done":                           "□ done",
		"12\u202f345\u00a0mm\u3000x":       "12\u202f345\u00a0mm x",
		"a\x00b\x1b[0m\u0085c":             "a□b□[0m\nc",
		"🛩 翼 أ א":                          "□ □ □ □",
		"bad \xff\xc3":                     "bad □□",
		"non\u2011breaking":                "non\u2010breaking",
	} {
		l, err := newLetters(newPDF())
		if err != nil {
			t.Fatal(err)
		}
		if got := l.clean(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

// What is reported is what became a box, from every place of a book, once, sorted.
func TestUnprintable(t *testing.T) {
	b := everywhere("ok ☐ ä")
	if got := b.Unprintable(); len(got) != 0 {
		t.Errorf("%q cannot be printed", got)
	}
	if got := (&Document{Title: "b翼a翼", Subtitle: "🛩\x01"}).Unprintable(); !slices.Equal(got, []rune{'\x01', '翼', '🛩'}) {
		t.Errorf("%q cannot be printed", got)
	}
	// A letter of its own for each place that a text can stand in.
	n := '一' - 1
	b = bookOf(true, func() string { n++; return string(n) })
	got := b.Unprintable()
	for r := '一'; r <= n; r++ {
		if !slices.Contains(got, r) {
			t.Errorf("%c is not reported; it is the text %d of the book", r, r-'一'+1)
		}
	}
}

func lineText(lines []line) []string {
	var list []string
	for _, l := range lines {
		s := ""
		for _, f := range l.frags {
			s += f.text + "|" + f.link + ";"
		}
		list = append(list, s)
	}
	return list
}

func TestWrap(t *testing.T) {
	l := sharedLetters()
	wide := l.width(bodyStyle, "the hull-left-")
	for _, c := range []struct {
		runs []run
		want []string
	}{
		{nil, nil},
		{[]run{{text: " \n "}}, nil},
		{[]run{{text: "  the   hull "}}, []string{"the hull|;"}},
		{[]run{{text: "the\nhull"}}, []string{"the|;", "hull|;"}},
		{[]run{{text: "the hull-left-half"}}, []string{"the hull-left-|;", "half|;"}},
		{[]run{{text: "see "}, {"A1,", "a"}, {text: " "}, {"A2", "b"}}, []string{"see|;A1,|a;A2|b;"}},
		{[]run{{text: "-5 mm"}}, []string{"-5 mm|;"}},
		{[]run{{text: "no\u00a0break in\u00a0it"}}, []string{"no\u00a0break|;", "in\u00a0it|;"}},
	} {
		if got := lineText(l.wrap(bodyStyle, wide, c.runs...)); !slices.Equal(got, c.want) {
			t.Errorf("%q is broken into %q, want %q", c.runs, got, c.want)
		}
	}
}

// No line is wider than its column, and no letter is lost, however long a word is.
func TestWrapLongWords(t *testing.T) {
	l := sharedLetters()
	for _, text := range []string{strings.Repeat("W", 10_000), strings.Repeat("ab-", 500), "i " + strings.Repeat("mW", 99) + " i", "д" + strings.Repeat("Щ", 50)} {
		for _, wide := range []float64{0, 1, 7.3, 60} {
			got := ""
			for _, n := range l.wrap(cellStyle, wide, run{text: text}) {
				if end := n.frags[len(n.frags)-1]; n.width > wide+small && len([]rune(end.text)) > 1 {
					t.Errorf("a line of %.2f mm in %.2f", n.width, wide)
				}
				got += n.frags[0].text
			}
			if strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(text, " ", "") {
				t.Errorf("letters are lost at %.1f mm", wide)
			}
		}
	}
}

// everywhere is a book that has the text in every place.
func everywhere(text string) *Document { return bookOf(true, func() string { return text }) }

// bookOf is a book with every kind of block, its texts asked for one by one.
func bookOf(labels bool, text func() string) *Document {
	picture := func() *picture.Picture {
		p := part(6, 4, 3)
		if labels {
			label(p, 2, 3, "middle", text())
		}
		return p
	}
	message := func(short bool) Message { return Message{Signal: text(), Alert: short, Text: text(), Short: short} }
	step := Step{ID: "step-1", Number: 1, Place: text(), Title: text(), Before: []Message{message(true)},
		LastCall: &Ticks{Title: text(), Items: []string{text(), text()}},
		Needs:    []Item{{Ref: text(), Name: text(), Count: 2, Picture: picture(), Link: "row-1"}, {Ref: text(), Name: text()}},
		Figure:   &Figure{Picture: picture(), Caption: text()}, Notes: []string{text()}, Signs: []string{text(), text()}}
	table := Table{Caption: text(), Head: []string{text(), text(), text()}, Rows: []Row{{ID: "row-1", Cells: []Cell{
		{Text: text()}, {Picture: picture(), Tick: true}, {Links: []Link{{text(), "step-1"}, {text(), "nowhere"}}}}}}}
	return &Document{Language: "en", Title: text(), Subtitle: text(), Footer: text(),
		Fixed: Fixed{Contents: text(), Step: "step"},
		Chapters: []Chapter{{Blocks: []Block{Facts{{text(), text()}}}}, {ID: "all", Title: text(), Blocks: []Block{
			Heading(text()), Text(text()), Bullets{text(), text()}, Ticks{Title: text(), Items: []string{text()}},
			message(false), table, Figure{Picture: picture(), Caption: text()}, step}}}}
}

var hostileTexts = []string{
	"<script>alert(1)</script>", ") Tj ET Q (", "\\", "\\)", "%PDF-1.7\nendstream endobj", "\r", "\u202e(evil)", strings.Repeat("W", 10_000),
	strings.Repeat("a b ", 2000), "%!d(EXTRA)", "%[1]s%n", "=SUM(A1)", "\x00\x01\x7f", "🛩翼أא", "\xff\xfe", "\ufeff", "e\u0301\u0301\u0301", "(\x0d\x0a(", "",
}

func TestHostileTexts(t *testing.T) {
	for _, text := range hostileTexts {
		b := everywhere(text)
		pages := pagesOf(t, b)
		data := setPDF(t, b)
		if n := len(kids(t, data)); n != len(pages) {
			t.Errorf("%.20q: %d pages, laid out on %d", text, n, len(pages))
		}
		if out, ok := documenttest.RunOn(t, data, "qpdf", "--check", "FILE"); ok && strings.Contains(strings.ToUpper(out), "WARNING") {
			t.Errorf("%.20q: %s", text, out)
		}
	}
}

// Nothing stands outside the margins of a page, and no word on another. Labels in
// pictures are left out: they stand where the drawing has them.
func TestNothingOverlaps(t *testing.T) {
	sample := sampleBook()
	for _, block := range sample.Chapters[4].Blocks {
		if s, ok := block.(Step); ok {
			s.Figure.Picture.Marks = nil
		}
	}
	words := func() string { return "Wide words stand in every place of this book" }
	for _, b := range []*Document{sample, bookOf(false, words)} {
		if out, ok := documenttest.RunOn(t, setPDF(t, b), "pdftotext", "-bbox", "FILE", "-"); ok {
			wantApart(t, out)
		}
	}
}

type wordBox struct{ x1, y1, x2, y2 float64 }

func wantApart(t *testing.T, out string) {
	t.Helper()
	words := 0
	for n, page := range strings.Split(out, "<page ")[1:] {
		var boxes []wordBox
		for _, w := range strings.Split(page, "<word ")[1:] {
			var b wordBox
			if _, err := fmt.Sscanf(w, `xMin="%f" yMin="%f" xMax="%f" yMax="%f"`, &b.x1, &b.y1, &b.x2, &b.y2); err != nil {
				t.Fatal(err)
			}
			const left, right = margin/mmPerPoint - 0.1, (pageWidth-margin)/mmPerPoint + 0.1
			if b.x1 < left || b.x2 > right || b.y1 < left {
				t.Errorf("page %d: %.60s is outside the margins", n+1, w)
			}
			for _, o := range boxes {
				if min(b.x2, o.x2)-max(b.x1, o.x1) > 0.2 && min(b.y2, o.y2)-max(b.y1, o.y1) > 0.2 {
					t.Errorf("page %d: %.90s is on another word", n+1, w)
				}
			}
			boxes = append(boxes, b)
			words++
		}
	}
	if words < 100 {
		t.Errorf("only %d words", words)
	}
}

// All is large enough to be read.
func TestNoSmallText(t *testing.T) {
	for _, s := range []style{bodyStyle, cellStyle, headStyle, smallStyle, captionStyle, boldStyle, numberStyle, actionStyle} {
		if s.points < 7.5 {
			t.Errorf("%.1f points", s.points)
		}
	}
}

func FuzzPDF(f *testing.F) {
	for _, text := range hostileTexts {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b := everywhere(text)
		pages := pagesOf(t, b)
		data := setPDF(t, b)
		if n := len(kids(t, data)); n != len(pages) {
			t.Errorf("%d pages, laid out on %d", n, len(pages))
		}
		if !OursPDF(data) {
			t.Error("the file does not say that dryfit made it")
		}
		for _, r := range b.Unprintable() {
			if !strings.ContainsRune(text, r) && r != unicode.ReplacementChar {
				t.Errorf("%q is reported and not in the text", r)
			}
		}
	})
}
