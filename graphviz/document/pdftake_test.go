package document

import (
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/picture"
)

// What is new in a step reads alike in all formats: what to take, and how many of it.
func TestTakeReadsAlike(t *testing.T) {
	b := &Document{Language: "de", Title: "T", Fixed: Fixed{Contents: "Contents", Step: "Schritt", Take: "Bereitlegen", Off: "{n} Stück", Tick: "abhaken"}, Chapters: []Chapter{{ID: "c", Title: "C", Blocks: []Block{
		Step{ID: "step-1", Number: 7, Title: "Fit it.", Needs: []Item{{Ref: "C02P", Name: "console", Count: 2, Picture: part(9, 9, 9), Alt: "a box"}, {Ref: "X", Name: "rest"}}}}}}}
	page := string(set(t, b))
	texts, _ := documenttest.CheckPage([]byte(page))
	plain, ran := documenttest.RunOn(t, setPDF(t, b), "pdftotext", "-raw", "FILE", "-")
	for format, text := range map[string]string{"HTML": strings.Join(texts, " "), "PDF": plain, "text": b.Text(false), "Markdown": b.Markdown()} {
		if format == "PDF" && !ran {
			continue
		}
		text = strings.Join(strings.Fields(text), " ")
		for _, want := range []string{"Bereitlegen", "C02P console, 2 Stück", "X rest"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in %q", format, want, text)
			}
		}
		if strings.Contains(text, "rest,") || strings.Contains(text, "Stück Stück") {
			t.Errorf("%s counts what has no count: %q", format, text)
		}
		if set := format == "HTML" || format == "PDF"; set && !strings.Contains(text, "Schritt 7") {
			t.Errorf("%s: the step has no heading in %q", format, text)
		}
	}
	if n := strings.Count(page, `type="checkbox" aria-label="abhaken: `); n != 2 {
		t.Errorf("%d squares to tick in the page, want 2", n)
	}
}

// Items go on in the next row when one is full, and none reaches beyond the page.
func TestTakeRows(t *testing.T) {
	s := &setter{sharedLetters(), &Document{Fixed: Fixed{Take: "Take", Off: "{n} off"}}}
	if s.take(nil) != nil {
		t.Error("there is a line for nothing")
	}
	item := Item{Ref: "A1", Name: "Port side console", Count: 1, Picture: &picture.Picture{Width: 60, Height: 30}}
	long := Item{Ref: "A2", Name: strings.Repeat("a long name ", 30), Count: 1, Picture: item.Picture}
	for _, c := range []struct {
		items []Item
		rows  int
	}{{[]Item{item}, 1}, {[]Item{item, item}, 1}, {slices.Repeat([]Item{item}, 5), 3}, {[]Item{long}, 1}, {[]Item{item, long, item}, 3}} {
		if list := s.take(c.items); len(list) != c.rows {
			t.Errorf("%d items are in %d rows, want %d", len(c.items), len(list), c.rows)
		}
		scale := commonScale(c.items)
		for _, i := range c.items {
			if cols, wide := s.taken(i, scale, 120); wide > 120+small || math.Abs(cols[1].atoms[0].height-30*scale) > small {
				t.Errorf("%.9q is %.1f mm wide, its picture %.1f mm high", i.Name, wide, cols[1].atoms[0].height)
			}
		}
	}
}
