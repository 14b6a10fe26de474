package document

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"dryfit/graphviz/picture"
	"dryfit/graphviz/svg"
)

//go:embed html.tmpl
var pageText string

//go:embed document.css
var pageStyle string

var page = template.Must(template.New("page").Funcs(template.FuncMap{
	"kind":     kind,
	"picture":  inlineSVG,
	"paper":    paper,
	"shares":   shares,
	"rowHead":  rowHead,
	"rowName":  rowName,
	"named":    Fixed.named,
	"tableMin": func(t Table) int { return 6 * len(t.Head) },
}).Parse(pageText))

// htmlStart is how every document in HTML starts.
const htmlStart = "<!DOCTYPE html>\n<!-- " + svg.Mark + " -->\n"

// OursHTML reports whether a file is a document that HTML made, by its start.
func OursHTML(file []byte) bool { return bytes.HasPrefix(file, []byte(htmlStart)) }

// HTML sets the book as one file of HTML that needs nothing else: no script, no other
// file, no network. The same book gives the same bytes. A text is a text, no matter what it
// holds, see [picture.Plain]. The error says which part of the book cannot be set: an ID
// twice, a link to nothing, a row too short.
func (b *Document) HTML() ([]byte, error) {
	if err := b.sound(); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.WriteString(htmlStart)
	err := page.Execute(&out, struct {
		*Document
		Style template.CSS
		Start string
	}{b, template.CSS(pageStyle + b.margins()), b.start()})
	if err != nil {
		return nil, fmt.Errorf("setting the document as HTML: %w", err)
	}
	// Here, and not at each text, so that none can be forgotten.
	return []byte(picture.Plain(out.String())), nil
}

// Listed reports whether a chapter has a title for the table of contents.
func (b *Document) Listed() bool {
	return slices.ContainsFunc(b.Chapters, func(c Chapter) bool { return c.Title != "" })
}

// start is where the steps begin, or the whole content of a book without steps. The
// ids of the page itself have a low line, as those of a book cannot.
func (b *Document) start() string {
	for _, c := range b.Chapters {
		for _, block := range c.Blocks {
			if s, ok := block.(Step); ok {
				return s.ID
			}
		}
	}
	return "page_main"
}

// margins prints the foot of the book and the page number on each page, where the
// browser can.
func (b *Document) margins() string {
	number := cssString(fmt.Sprintf(picture.Plain(b.Fixed.PageOf), "\x01", "\x02"))
	number = strings.NewReplacer(`\1 `, `" counter(page) "`, `\2 `, `" counter(pages) "`).Replace(number)
	return "@page {\n@bottom-left { content: " + cssString(picture.Plain(b.Footer)) + " }\n@bottom-right { content: " + number + " }\n}\n"
}

// cssString quotes a text for a style sheet within a page; all but letters and digits
// are written as their numbers, so that nothing can end the string or the sheet.
func cssString(s string) string {
	var out strings.Builder
	out.WriteByte('"')
	for _, r := range s {
		if r == ' ' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' {
			out.WriteRune(r)
		} else {
			fmt.Fprintf(&out, `\%x `, r)
		}
	}
	out.WriteByte('"')
	return out.String()
}

// kind is the type of a block, for the template to choose by.
func kind(b Block) string { return strings.TrimPrefix(fmt.Sprintf("%T", b), "document.") }

func inlineSVG(p *picture.Picture, alt string) template.HTML { return template.HTML(p.SVG(alt)) }

// paper is the width that a picture has on paper, for a style sheet.
func paper(p *picture.Picture) string {
	if !(p.Width > 0 && p.Width < 1000) {
		return "auto"
	}
	return strconv.FormatFloat(p.Width, 'f', 1, 64) + "mm"
}

// shares are the widths of columns in percent; none where the table does not say.
func shares(t Table) []string {
	sum := 0.0
	for _, w := range t.Widths {
		if !(w > 0) {
			return nil
		}
		sum += w
	}
	if len(t.Widths) != len(t.Head) || math.IsInf(sum, 0) {
		return nil
	}
	out := make([]string, len(t.Widths))
	for i, w := range t.Widths {
		out[i] = strconv.FormatFloat(100*w/sum, 'f', 2, 64) + "%"
	}
	return out
}

// rowHead is the cell that a row is known by: the first with a text.
func rowHead(r Row) int {
	for i, c := range r.Cells {
		if c.Text != "" {
			return i
		}
	}
	return -1
}

func rowName(r Row) string {
	if i := rowHead(r); i >= 0 {
		return r.Cells[i].Text
	}
	return ""
}
