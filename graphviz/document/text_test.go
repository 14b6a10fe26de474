package document

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/graphviz/document/documenttest"
)

// every is a document with each kind of block, whose texts are numbered.
func every() *Document {
	n := 0
	text := func() string { n++; return fmt.Sprintf("text%02d", n) }
	message := func() Message { return Message{Signal: text(), Alert: true, Text: text()} }
	ticks := func() Ticks { return Ticks{Title: text(), Items: []string{text(), text()}} }
	return &Document{
		Language: "en", Title: "Every block", Fixed: Fixed{Contents: "Contents", PageOf: "%[1]s of %[2]s", Skip: "skip", Step: "Step", Take: "Take", Off: "{n} off", Tick: "tick"},
		Chapters: []Chapter{{ID: "report", Blocks: []Block{
			Text(text()), Heading(text()), Facts{{text(), text()}}, Bullets{text(), text()}, ticks(), message(),
			NewTable([]string{text(), text()}, []string{text(), text()}),
			Step{ID: "step-1", Number: 1, Title: text(), Before: []Message{message()}, LastCall: pointer(ticks()), Notes: []string{text()}, Signs: []string{text()},
				Needs: []Item{{Ref: text(), Name: text(), Count: 2}}},
			Entry{Title: text(), Texts: []string{text(), text()}, Lists: []List{{Title: text(), Numbered: true, Items: []string{text(), text()}}, {Items: []string{text()}}}},
			Entry{Texts: []string{text()}, Lists: []List{{Title: text()}}},
		}}},
	}
}

func pointer[T any](v T) *T { return &v }

// Every setter shows every text of every block, in its sequence as far as it is one.
func TestEverySetterKnowsEveryBlock(t *testing.T) {
	page := set(t, every())
	if _, faults := documenttest.CheckPage(page); len(faults) > 0 {
		t.Error(strings.Join(faults, "\n"))
	}
	for name, got := range map[string]string{"text": every().Text(false), "markdown": every().Markdown(), "html": string(page)} {
		for i := 1; i <= 34; i++ {
			if text := fmt.Sprintf("text%02d", i); !strings.Contains(got, text) {
				t.Errorf("%s: %s is missing", name, text)
			}
		}
	}
	out, ran := documenttest.RunOn(t, setPDF(t, every()), "pdftotext", "-layout", "FILE", "-")
	for i := 1; ran && i <= 34; i++ {
		if text := fmt.Sprintf("text%02d", i); !strings.Contains(out, text) {
			t.Errorf("PDF: %s is missing", text)
		}
	}
}

// Text and Markdown as they were looked at by a person. With UPDATE_GOLDEN set they are
// written again; look at the difference.
func TestTextGolden(t *testing.T) {
	for file, got := range map[string]string{"every.txt": every().Text(false), "every.md": every().Markdown()} {
		file = filepath.Join("testdata", file)
		if os.Getenv("UPDATE_GOLDEN") != "" {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: got\n%s", file, got)
		}
	}
}

// Whatever a text holds, it neither steers the terminal nor breaks a line or a table,
// and no line is longer than it should be but for a long word.
func TestTextHostile(t *testing.T) {
	for _, text := range hostile {
		d := everywhere(text)
		d.Chapters[0].Blocks = append(d.Chapters[0].Blocks, Entry{Title: text, Texts: []string{text}, Lists: []List{{Title: text, Items: []string{text}}}})
		for _, line := range strings.Split(d.Text(false), "\n") {
			if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r == 0x7f || r >= 0x202a && r <= 0x202e }) {
				t.Errorf("%.40q steers the terminal: %q", text, line)
			}
			if words := strings.Fields(line); length(line) > LineWidth && len(words) > 6 && !strings.HasPrefix(line, "  ") {
				t.Errorf("%.40q: a line of %d characters: %.120q", text, length(line), line)
			}
		}
		for _, line := range strings.Split(d.Markdown(), "\n") {
			if strings.Contains(line, "<") {
				t.Errorf("%.40q is markup: %q", text, line)
			}
		}
	}
}

// Numbers that do not rise by one are not left to a numbered list, which counts by itself.
func TestMarkdownNumbers(t *testing.T) {
	for _, c := range []struct {
		second int
		want   string
	}{{4, "3. a\n4. b\n"}, {9, "- **3.** a\n- **9.** b\n"}} {
		d := &Document{Title: "T", Chapters: []Chapter{{Blocks: []Block{Step{Number: 3, Title: "a"}, Step{Number: c.second, Title: "b"}}}}}
		if got := d.Markdown(); got != "# T\n\n"+c.want {
			t.Errorf("got %q, want %q at the end", got, c.want)
		}
	}
}

// Headings stand out on a terminal that wants it, and nothing else does.
func TestTextBold(t *testing.T) {
	d := &Document{Chapters: []Chapter{{Blocks: []Block{Heading("a heading"), Text("a text")}}}}
	if got, want := d.Text(true), "\x1b[1ma heading\x1b[0m\na text\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
