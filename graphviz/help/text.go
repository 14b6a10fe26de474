package help

import (
	"io"
	"strings"

	"dryfit/graphviz/document"
)

// WriteText sets a topic for a terminal. Of Markdown it knows what the topics use:
// headings, paragraphs, lists, tables, fenced code, bold text and code in a line.
func (t Topic) WriteText(w io.Writer) error {
	s := setter{w: w, tight: true}
	for _, paragraph := range strings.Split(string(t.Markdown()), "\n\n") {
		if err := s.paragraph(strings.Trim(paragraph, "\n")); err != nil {
			return err
		}
	}
	return nil
}

// setter sets paragraphs with an empty line between them, but none below a heading.
type setter struct {
	w     io.Writer
	tight bool // no empty line comes before the next paragraph
	code  bool // within fenced code, which stays as it is
}

func (s *setter) paragraph(text string) error {
	const fence = "```"
	if !s.tight {
		if _, err := io.WriteString(s.w, "\n"); err != nil {
			return err
		}
	}
	s.tight = false
	if strings.HasPrefix(text, fence) {
		_, text, _ = strings.Cut(text, "\n")
		s.code = true
	}
	if s.code {
		lines, end := strings.CutSuffix(text, fence)
		s.code = !end
		_, err := io.WriteString(s.w, "  "+strings.ReplaceAll(strings.TrimSpace(lines), "\n", "\n  ")+"\n")
		return err
	}
	list := blocks(text)
	_, s.tight = list[0].(document.Heading)
	return document.WriteText(s.w, &document.Document{Chapters: []document.Chapter{{Blocks: list}}})
}

// blocks are those of a paragraph that is not code.
func blocks(text string) []document.Block {
	switch {
	case strings.HasPrefix(text, "|"):
		return table(text)
	case strings.HasPrefix(text, "- "):
		return []document.Block{bullets(text)}
	case strings.HasPrefix(text, "#"):
		return []document.Block{document.Heading(plain(strings.TrimLeft(text, "# ")))}
	case strings.HasPrefix(text, "**") && strings.HasSuffix(text, "**"):
		return []document.Block{document.Heading(plain(text))}
	}
	return []document.Block{document.Text(plain(text))}
}

func bullets(text string) document.Bullets {
	var list document.Bullets
	for _, item := range strings.Split(strings.TrimPrefix(text, "- "), "\n- ") {
		list = append(list, plain(item))
	}
	return list
}

// widest is the room that the columns before the last may take in a table, in
// characters.
const widest = 62

// table sets a narrow table as such. Of a wide one each row becomes an entry, with the
// last cell below the others.
func table(text string) []document.Block {
	var rows [][]string
	for _, line := range strings.Split(text, "\n") {
		if !strings.HasPrefix(line, "|---") {
			rows = append(rows, cells(line))
		}
	}
	if room(rows) <= widest {
		return []document.Block{document.NewTable(rows[0], rows[1:]...)}
	}
	var list []document.Block
	for _, row := range rows[1:] {
		last := len(row) - 1
		list = append(list, document.Entry{Texts: []string{strings.Join(row[:last], ": "), row[last]}})
	}
	return list
}

// room is how wide the columns before the last are, all together.
func room(rows [][]string) int {
	sum := 0
	for i := range len(rows[0]) - 1 {
		wide := 0
		for _, row := range rows {
			wide = max(wide, len(row[i]))
		}
		sum += wide
	}
	return sum
}

func cells(line string) []string {
	return strings.Split(strings.ReplaceAll(strings.Trim(line, "| "), "`", ""), " | ")
}

// plain is a text without the marks of Markdown that mean nothing to a reader. Code in a
// line keeps its quotes: they tell the key `to` from the word.
func plain(text string) string { return strings.ReplaceAll(text, "**", "") }
