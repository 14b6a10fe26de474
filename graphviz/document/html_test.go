package document

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/picture"
)

func set(t *testing.T, b *Document) []byte {
	t.Helper()
	page, err := b.HTML()
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// UPDATE_GOLDEN=1 writes the page anew; open it in a browser and look at it.
func TestHTMLGolden(t *testing.T) {
	const file = "testdata/sample.html"
	got := set(t, sample())
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		lines := strings.Split(string(want), "\n")
		for i, l := range strings.Split(string(got), "\n") {
			if i >= len(lines) || l != lines[i] {
				t.Fatalf("%s:%d: got\n%s", file, i+1, l)
			}
		}
		t.Fatalf("%s goes on", file)
	}
}

func TestHTMLIsTheSameTwice(t *testing.T) {
	if !bytes.Equal(set(t, sample()), set(t, sample())) {
		t.Error("two different pages")
	}
}

func TestOursHTML(t *testing.T) {
	page := set(t, sample())
	if !OursHTML(page) {
		t.Error("does not know its own page")
	}
	for _, other := range []string{"", "<!DOCTYPE html>\n<html lang=\"en\">\n<meta name=\"generator\" content=\"dryfit\">", "\n" + string(page)} {
		if OursHTML([]byte(other)) {
			t.Errorf("takes this for its own: %.60q", other)
		}
	}
}

func TestHTMLIsSound(t *testing.T) {
	if _, faults := documenttest.CheckPage(set(t, sample())); len(faults) > 0 {
		t.Error(strings.Join(faults, "\n"))
	}
}

// The check of pages finds what it is there for.
func TestPageCheckFinds(t *testing.T) {
	page := string(set(t, sample()))
	for _, c := range []struct{ old, new, fault string }{
		{"<p dir=\"auto\">", "<p dir=\"auto\"><script>1</script>", "element script"},
		{"</p>", "", "in [html"},
		{"</p>", "<ul></ul></p>", "<ul> in [html"},
		{`href="#step-4"`, `href="#step-44"`, "step-44 leads nowhere"},
		{`href="#step-4"`, `href="https://example.org"`, "href https"},
		{`id="step-4"`, `id="step-3"`, "id step-3 twice"},
		{`<h2 dir="auto">Parts`, `<h3 dir="auto">x</h3><h1>Parts`, "heading 1"},
		{"<title>The tug from the port bow, with wheelhouse and funnel.</title>\n", "", "an svg without a title"},
		{` aria-label="tick off: photograph of the inside"`, "", "an input without a label"},
		{"<td dir=", "<td onclick=", "attribute onclick"},
		{"Harbour tug", "Harbour \u202etug", "character U+202E"},
		{"default-src 'none'", "default-src *", "policy"},
		{"<th scope=\"row\"", "<th", "a head of nothing"},
	} {
		broken := strings.Replace(page, c.old, c.new, 1)
		_, faults := documenttest.CheckPage([]byte(broken))
		if broken == page || !strings.Contains(strings.Join(faults, "\n"), c.fault) {
			t.Errorf("%q for %q: %q", c.new, c.old, faults)
		}
	}
}

// Whoever reads a step in sequence meets its warnings and the last call before the
// action.
func TestHTMLWarnsBeforeTheAction(t *testing.T) {
	steps := strings.Split(string(set(t, sample())), "<article ")[1:]
	for i, want := range []int{0, 2, 0, 1} {
		before, _, ok := strings.Cut(steps[i], `class="action"`)
		if got := strings.Count(before, `role="note"`) + strings.Count(before, "<fieldset>"); !ok || got != want {
			t.Errorf("step %d: %d messages before the action, want %d", i+1, got, want)
		}
	}
}

var hostile = []string{
	`</title></style><script>alert(1)</script><img src=x onerror=alert(1)>`,
	`" onmouseover="alert(1)" x='`,
	`javascript:alert(1)//https://example.org`,
	`&lt;b&gt; &#x202e; {{.Title}} ]]> --> <!-- \3c \a`,
	"\x00\x07\x1b[31mred\x7f\u0085\u009b\u2028x\ufffe",
	"\u202egnp.tug\u202c \u2067abc\u2069 \u200f",
	"שלום עולם, العربية",
	strings.Repeat("W", 10000),
	"=HYPERLINK(\"https://example.org\")",
	"line\r\nline\nline\v\ffeed",
	"\xff\xfe broken \xc3",
}

// Each text of a book stands in the page once at least, as a text, and does nothing else.
func TestHTMLHostileTexts(t *testing.T) {
	for _, text := range hostile {
		checkTexts(t, text)
	}
}

func checkTexts(t *testing.T, text string) {
	t.Helper()
	b := sample()
	f := filler{text: text}
	f.fill(reflect.ValueOf(b).Elem(), "")
	page := set(t, b)
	texts, faults := documenttest.CheckPage(page)
	if len(faults) > 0 {
		t.Fatalf("%.60q: %s", text, strings.Join(faults, "\n"))
	}
	all := strings.Join(texts, "\x00")
	if f.count < 100 {
		t.Fatalf("only %d texts filled in", f.count)
	}
	for i := range f.count {
		if !strings.Contains(all, f.at(i)) {
			t.Fatalf("text %d, %.60q, is not in the page", i, text)
		}
	}
}

// filler puts a text with a number into each text of a book that is not empty.
type filler struct {
	text  string
	count int
}

func (f *filler) at(i int) string { return fmt.Sprintf("<%d>%s</%d>", i, picture.Plain(f.text), i) }

func (f *filler) fill(v reflect.Value, name string) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			f.fill(v.Elem(), name)
		}
	case reflect.Interface: // a copy, as what is in an interface cannot be set
		c := reflect.New(v.Elem().Type()).Elem()
		c.Set(v.Elem())
		f.fill(c, name)
		v.Set(c)
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i), v.Type().Field(i).Name)
		}
	case reflect.Slice:
		for i := range v.Len() {
			f.fill(v.Index(i), name)
		}
	case reflect.String:
		switch name {
		case "ID", "Link", "Language", "PageOf", "Stroke", "Fill", "Anchor":
			return
		}
		if v.String() != "" {
			v.SetString(fmt.Sprintf("<%d>%s</%d>", f.count, f.text, f.count))
			f.count++
		}
	}
}

func FuzzHTML(f *testing.F) {
	for _, text := range hostile {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { checkTexts(t, text) })
}

// Nothing but the text and the counters is in the foot of printed pages.
func TestMargins(t *testing.T) {
	inString := regexp.MustCompile(`"(\\[0-9a-f]+ |[A-Za-z0-9 ])*"`)
	for _, text := range append(hostile, "") {
		b := &Document{Footer: text, Fixed: Fixed{PageOf: "Seite %[1]s von %[2]s" + text}}
		got := inString.ReplaceAllString(b.margins(), "S")
		if want := "@page {\n@bottom-left { content: S }\n@bottom-right { content: S counter(page) S counter(pages) S }\n}\n"; got != want {
			t.Errorf("%.60q: %s", text, got)
		}
	}
	b := &Document{Footer: `a"b`, Fixed: Fixed{PageOf: "of %[2]s, %[1]s"}}
	want := "@page {\n@bottom-left { content: \"a\\22 b\" }\n@bottom-right { content: \"of \" counter(pages) \"\\2c  \" counter(page) \"\" }\n}\n"
	if got := b.margins(); got != want {
		t.Error(got)
	}
}

func TestHTMLRefuses(t *testing.T) {
	for _, c := range []struct {
		what   string
		change func(*Document)
		want   string
	}{
		{"no language", func(b *Document) { b.Language = " " }, "the document has no language"},
		{"no title to read", func(b *Document) { b.Title = "\u202e " }, "the document has no title that can be read: give the kit a name"},
		{"an ID twice", func(b *Document) { b.Chapters[1].ID = "step-4" }, `two places with the ID "step-4"`},
		{"no ID", func(b *Document) { b.Chapters[1].ID = "" }, `"" is no ID: letters, digits and hyphens`},
		{"an ID of the page", func(b *Document) { b.Chapters[1].ID = "page_main" }, `"page_main" is no ID: letters, digits and hyphens`},
		{"a link to nothing", func(b *Document) { b.Chapters[3].Blocks[0].(Table).Rows[0].ID = "" }, `a link to "part-A1" leads nowhere`},
		{"a short row", func(b *Document) {
			rows := b.Chapters[3].Blocks[0].(Table).Rows
			rows[2].Cells = rows[2].Cells[1:]
		}, `chapter "parts": table "Pictures at half size, all at one scale.": row 3 has 5 cells under 6 heads`},
		{"no picture", func(b *Document) { b.Chapters[0].Blocks[0] = Figure{Caption: "x"} }, `chapter "front": figure "x" has no picture`},
		{"a pointer", func(b *Document) { b.Chapters[0].Blocks[0] = new(Heading) }, `chapter "front": a block of type *document.Heading cannot be set`},
		{"nil", func(b *Document) { b.Chapters[0].Blocks[0] = nil }, `chapter "front": a block of type <nil> cannot be set`},
	} {
		b := sample()
		c.change(b)
		if _, err := b.HTML(); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}

// Widths that are none do not reach the page.
func TestHTMLWithoutNumbers(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 0} {
		b := sample()
		b.Chapters[0].Blocks[0].(Figure).Picture.Width = v
		table := b.Chapters[3].Blocks[0].(Table)
		table.Widths[2] = v
		page := set(t, b)
		if _, faults := documenttest.CheckPage(page); len(faults) > 0 || bytes.Contains(page, []byte("NaN")) || bytes.Contains(page, []byte("Inf%")) {
			t.Errorf("%v: %v", v, faults)
		}
	}
}

// Letters stand out from their ground by 4.5 to 1 and frames by 3 to 1, light and dark.
// Formula and limits: Web Content Accessibility Guidelines 2.1, 1.4.3 and 1.4.11.
func TestContrast(t *testing.T) {
	colour := regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`)
	themes := strings.SplitAfterN(pageStyle, "prefers-color-scheme: dark", 2)
	for theme, css := range themes {
		is := map[string]string{}
		for _, m := range colour.FindAllStringSubmatch(css, -1) {
			is[m[1]] = m[2]
		}
		for _, c := range []struct {
			front, ground string
			least         float64
		}{
			{"ink", "ground", 4.5}, {"soft", "ground", 4.5}, {"link", "ground", 4.5},
			{"ink", "raised", 4.5}, {"link", "raised", 4.5}, {"ink", "alert", 4.5},
			{"alert-line", "alert", 3}, {"alert-line", "ground", 3},
		} {
			a, b := luminance(t, is[c.front]), luminance(t, is[c.ground])
			if got := (max(a, b) + 0.05) / (min(a, b) + 0.05); got < c.least {
				t.Errorf("theme %d: %s on %s: %.1f", theme, c.front, c.ground, got)
			}
		}
	}
}

func luminance(t *testing.T, s string) float64 {
	t.Helper()
	if len(s) != 7 {
		t.Fatalf("colour %q", s)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(s[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		v := float64(n) / 255
		if v <= 0.03928 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}
