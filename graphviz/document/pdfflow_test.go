package document

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/picture"
)

// sharedLetters saves reading the fonts for each of many books.
var sharedLetters = sync.OnceValue(func() *letters {
	l, err := newLetters(newPDF())
	if err != nil {
		panic(err) // the fonts are those of the program
	}
	return l
})

func pagesOf(t testing.TB, b *Document) [][]placed {
	t.Helper()
	pages := flow((&setter{sharedLetters(), b}).pieces())
	wantOnPage(t, pages)
	return pages
}

// wantOnPage checks that no piece is over another or over the edge of its page.
func wantOnPage(t testing.TB, pages [][]placed) {
	t.Helper()
	for n, page := range pages {
		y := 0.0
		for _, p := range page {
			if p.y < y-small || p.y+p.height > textHeight+2*small {
				t.Errorf("page %d: a piece from %.1f to %.1f mm, below one that ends at %.1f", n+1, p.y, p.y+p.height, y)
			}
			y = p.y + p.height
		}
	}
}

// pagesOfStep are the pages with pieces of a step. All but its first know the head
// that would stand above them on another page.
func pagesOfStep(pages [][]placed, id string) []int {
	var list []int
	var again *piece
	for n, page := range pages {
		for i, p := range page {
			if slices.Contains(p.ids, id) {
				list = append(list, n)
				if i+1 < len(page) && len(page[i+1].again) > 0 {
					again = page[i+1].again[0]
				}
			} else if again != nil && len(p.again) > 0 && p.again[0] == again && list[len(list)-1] != n {
				list = append(list, n)
			}
		}
	}
	return list
}

func stepOf(n int, height float64, notes int) Step {
	return Step{ID: fmt.Sprint("step-", n), Number: n, Place: "A", Title: "Fit it", Figure: &Figure{Picture: &picture.Picture{Width: 100, Height: height}},
		Before: []Message{{Signal: "WARNING", Alert: true, Text: "It bonds skin.", Short: true}},
		Needs:  []Item{{Ref: "A1", Name: "Part", Count: 2, Picture: part(9, 9, 9)}},
		Notes:  slices.Repeat([]string{"Hold it for 30 s."}, notes)}
}

// A step that fits on a page is on one page, whatever comes before it.
func TestStepIsNotBroken(t *testing.T) {
	fit, not := 0, 0
	for notes := range 25 {
		for lines := range 40 {
			b := &Document{Title: "T", Chapters: []Chapter{{Title: "C", Blocks: []Block{
				Bullets(slices.Repeat([]string{"before"}, lines)), stepOf(1, 20+float64(notes)*5, notes), stepOf(2, 90, 3)}}}}
			pages := pagesOf(t, b)
			one := (&setter{sharedLetters(), b}).step(b.Chapters[0].Blocks[1].(Step))
			whole := height(one)-one[0].before <= textHeight
			if whole {
				fit++
			} else {
				not++
			}
			if on := pagesOfStep(pages, "step-1"); (len(on) == 1) != whole {
				t.Fatalf("the step of %.1f mm is on the pages %v behind %d lines, with %d notes", height(one), on, lines, notes)
			}
			if on := pagesOfStep(pages, "step-2"); len(on) != 1 {
				t.Fatalf("the second step is on the pages %v behind %d lines, with %d notes", on, lines, notes)
			}
		}
	}
	if fit == 0 || not == 0 {
		t.Errorf("%d steps fit on a page and %d do not: the test tries only one kind", fit, not)
	}
}

// Two steps of about half a page stand on one.
// Steps that are a title alone, as in a list of all steps, fill page after page.
func TestShortStepsFillPages(t *testing.T) {
	var blocks []Block
	for n := 1; n <= 40; n++ {
		blocks = append(blocks, Step{ID: fmt.Sprintf("step-%d", n), Number: n, Title: "Fit the lid to the box."})
	}
	pages := pagesOf(t, &Document{Language: "en", Title: "Box", Chapters: []Chapter{{ID: "report", Blocks: blocks}}})
	if first := pagesOfStep(pages, "step-1"); len(first) == 0 || first[0] != pagesOfStep(pages, "step-2")[0] || first[0] != 0 {
		t.Errorf("the first step is on page %v", first)
	}
	if n := len(pages); n > 4 {
		t.Errorf("40 short steps take %d pages", n)
	}
}

func TestTwoStepsOnAPage(t *testing.T) {
	b := &Document{Chapters: []Chapter{{}, {Title: "C", Blocks: []Block{stepOf(1, 100, 9), stepOf(2, 52, 2), stepOf(3, 52, 2), stepOf(4, 52, 2), stepOf(5, 52, 2)}}}}
	pages := pagesOf(t, b)
	var at []int
	for n := 1; n <= 5; n++ {
		at = append(at, pagesOfStep(pages, fmt.Sprint("step-", n))...)
	}
	if want := []int{2, 3, 3, 4, 4}; !slices.Equal(at, want) {
		t.Errorf("the steps are on the pages %v, want %v", at, want)
	}
}

// Of a step that is longer than a page, the head is on one page with the picture, and
// the number stands again on each page that follows.
func TestLongStep(t *testing.T) {
	b := &Document{Chapters: []Chapter{{Title: "C", Blocks: []Block{Text("before"), stepOf(1, 150, 120)}}}}
	pages := pagesOf(t, b)
	on := pagesOfStep(pages, "step-1")
	if len(on) < 3 {
		t.Fatalf("the step is on the pages %v", on)
	}
	picture := slices.IndexFunc(pages[on[0]], func(p placed) bool { return p.height == 150 })
	if picture < 0 {
		t.Error("the picture is not on the page of the head")
	}
	for _, n := range on[1:] {
		if first, second := pages[n][0], pages[n][1]; len(second.again) != 1 || first.piece != second.again[0] {
			t.Errorf("page %d does not start with the number of the step", n+1)
		}
	}
}

// A heading is never the last of its page.
func TestHeadingIsKept(t *testing.T) {
	for lines := range 60 {
		b := &Document{Chapters: []Chapter{{Title: "C", Blocks: []Block{
			Bullets(slices.Repeat([]string{"before"}, lines)), Heading("Heading"), Text(strings.Repeat("words and words ", 40))}}}}
		for n, page := range pagesOf(t, b) {
			if last := page[len(page)-1]; last.keep {
				t.Errorf("behind %d lines, the last of page %d is to be kept with what follows", lines, n+1)
			}
		}
	}
}

// Neither is a short text under it.
func TestIntroIsKept(t *testing.T) {
	for lines := range 60 {
		b := &Document{Chapters: []Chapter{{Title: "C", Blocks: []Block{
			Bullets(slices.Repeat([]string{"before"}, lines)), Heading("Heading"), Text("Start with the hull."), Step{ID: "s", Number: 1, Title: "Fit it.", Notes: []string{"Wait."}}}}}}
		for n, page := range pagesOf(t, b) {
			if last := page[len(page)-1]; last.keep {
				t.Errorf("behind %d lines, the last of page %d is to be kept with what follows", lines, n+1)
			}
		}
	}
}

func longTable(rows int) Table {
	t := Table{Caption: "Parts", Head: []string{"No.", "Name"}, Widths: []float64{1, 4}}
	for i := range rows {
		t.Rows = append(t.Rows, Row{ID: fmt.Sprint("row-", i), Cells: []Cell{{Text: fmt.Sprint(i)}, {Text: "Part"}}})
	}
	return t
}

// A long last call is set so that its step is still whole, in reading order.
func TestLongLastCall(t *testing.T) {
	step := stepOf(1, 90, 2)
	step.LastCall = &Ticks{Title: "Last call"}
	for i := range 25 {
		step.LastCall.Items = append(step.LastCall.Items, fmt.Sprint("look at part ", i, "."))
	}
	b := &Document{Chapters: []Chapter{{Title: "C", Blocks: []Block{Text("before"), step}}}}
	if on := pagesOfStep(pagesOf(t, b), "step-1"); len(on) != 1 {
		t.Errorf("the step is on the pages %v", on)
	}
	text, ok := documenttest.RunOn(t, setPDF(t, b), "pdftotext", "-raw", "FILE", "-")
	at := 0
	for _, item := range step.LastCall.Items {
		i := strings.Index(text[at:], item)
		if ok && i < 0 {
			t.Fatalf("%q does not come behind those before it, in\n%s", item, text)
		}
		at += max(i, 0)
	}
}

// No row of a table stands alone on a page.
func TestNoRowAlone(t *testing.T) {
	for rows := range 90 {
		b := &Document{Chapters: []Chapter{{Title: "Parts", Blocks: []Block{Bullets(slices.Repeat([]string{"before"}, rows%40)), longTable(rows + 3)}}}}
		for n, page := range pagesOf(t, b) {
			count := 0
			for _, p := range page {
				if len(p.ids) > 0 && strings.HasPrefix(p.ids[0], "row-") {
					count++
				}
			}
			if count == 1 {
				t.Errorf("one of %d rows is alone on page %d", rows+3, n+1)
			}
		}
	}
}

// Columns have room for each word of their heads, and fill the width of the page.
func TestColumnWidths(t *testing.T) {
	s := &setter{sharedLetters(), &Document{}}
	for _, c := range []struct {
		table Table
		whole bool
	}{
		{Table{Head: []string{"Reference", "Quantity", "Name"}, Widths: []float64{1, 1, 20}}, true},
		{Table{Head: []string{"a", "b"}, Widths: []float64{1, 3}}, true},
		{Table{Head: []string{"a", "b"}, Widths: []float64{1, -3}}, true},
		{Table{Head: []string{strings.Repeat("W", 60), strings.Repeat("W", 60)}}, false},
	} {
		sum, whole := 0.0, true
		for i, w := range s.columnWidths(c.table) {
			sum += w
			whole = whole && s.width(headStyle, c.table.Head[i])+2*cellPad <= w
		}
		if math.Abs(sum-textWidth) > small || whole != c.whole {
			t.Errorf("%.20q: %.2f mm, heads whole: %v", c.table.Head, sum, whole)
		}
	}
	if got := s.columnWidths(Table{Head: []string{"a", "b"}, Widths: []float64{1, 3}}); math.Abs(got[0]-textWidth/4) > small {
		t.Errorf("shares of 1 and 3 give %v", got)
	}
}

// A caption that the heading above it says already is left out.
func TestCaptionOnce(t *testing.T) {
	b := &Document{Chapters: []Chapter{{Blocks: []Block{Heading("Glued parts"), Table{Caption: "Glued parts", Head: []string{"a"}}, Table{Caption: "Glued parts", Head: []string{"a"}}}}}}
	if text, ok := documenttest.RunOn(t, setPDF(t, b), "pdftotext", "FILE", "-"); ok && strings.Count(text, "Glued parts") != 2 {
		t.Errorf("the caption is not there twice: %s", text)
	}
}

// The heads stand at the top of each page of a table, and each row on one page.
func TestTableHeadsAgain(t *testing.T) {
	pages := pagesOf(t, &Document{Chapters: []Chapter{{}, {Title: "Parts", Blocks: []Block{longTable(120)}}}})
	if len(pages) < 5 {
		t.Fatalf("only %d pages, with the title and the contents", len(pages))
	}
	page, _, _ := places(pages)
	for i := range 120 {
		if page[fmt.Sprint("row-", i)] == 0 {
			t.Errorf("row %d is nowhere", i)
		}
	}
	for n, list := range pages[3:] {
		if len(list[1].again) != 1 || list[0].piece != list[1].again[0] {
			t.Errorf("page %d starts without the heads", n+4)
		}
	}
}

// A row, a message, a list item and a head that are longer than a page go on on the
// next; nothing of them is lost.
func TestLongerThanAPage(t *testing.T) {
	const n = 3000
	long := strings.Repeat("word ", n)
	for name, b := range map[string]Block{
		"row":     Table{Head: []string{"a", "b"}, Rows: []Row{{Cells: []Cell{{Text: "x"}, {Text: long}}}}},
		"head":    Table{Head: []string{"a", long}, Rows: []Row{{Cells: []Cell{{Text: "x"}}}}},
		"message": Message{Signal: "WARNING", Alert: true, Text: long},
		"signal":  Message{Signal: long, Alert: true},
		"fact":    Facts{{Name: long, Value: "x"}},
		"tick":    Ticks{Items: []string{long}},
		"item":    Step{Needs: []Item{{Name: long}}},
		"action":  Step{Title: long},
		"sign":    Step{Signs: []string{long}},
		"caption": Figure{Picture: part(9, 9, 9), Caption: long},
		"text":    Text(long),
	} {
		book := &Document{Chapters: []Chapter{{Title: "C", Blocks: []Block{b}}}}
		if pages := pagesOf(t, book); len(pages) < 4 {
			t.Errorf("%s: %d pages", name, len(pages))
		}
		text, ok := documenttest.RunOn(t, setPDF(t, book), "pdftotext", "FILE", "-")
		got := strings.Count(text, "word")
		// The head of a step that goes on says its title again, in one line.
		if again := name == "action" && got > n; ok && got != n && !again {
			t.Errorf("%s: %d words of %d", name, got, n)
		}
	}
}

// The contents say the pages on which the chapters are.
func TestContents(t *testing.T) {
	b := &Document{Fixed: Fixed{Contents: "Contents"}, Chapters: []Chapter{{Title: "First", Blocks: []Block{longTable(90)}}, {Title: "Second"}}}
	for i := range 80 {
		b.Chapters = append(b.Chapters, Chapter{ID: fmt.Sprint("c", i), Title: fmt.Sprint("Chapter ", i)})
	}
	pages := pagesOf(t, b)
	page, _, _ := places(pages)
	text, ok := documenttest.RunOn(t, setPDF(t, b), "pdftotext", "-layout", "FILE", "-")
	if !ok {
		return
	}
	text = strings.ReplaceAll(text, "\f", "\n")
	for i, c := range b.Chapters {
		want := fmt.Sprint(page[chapterPlace(i)])
		at := strings.Index(text, "\n"+c.Title+" ")
		if at < 0 {
			t.Errorf("%s is not in the contents", c.Title)
			continue
		}
		entry, _, _ := strings.Cut(text[at+1:], "\n")
		if f := strings.Fields(entry); f[len(f)-1] != want {
			t.Errorf("the contents say %q, and it is on page %s", entry, want)
		}
		if p := pages[page[chapterPlace(i)]-1]; !slices.Contains(p[0].ids, chapterPlace(i)) {
			t.Errorf("%s does not start its page", c.Title)
		}
	}
}
