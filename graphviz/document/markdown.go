package document

import (
	"fmt"
	"slices"
	"strings"
)

// Markdown sets the document as Markdown. No text of it is taken for markup. Pictures are left out.
func (b *Document) Markdown() string {
	m := &markdown{fixed: b.Fixed}
	m.line("# " + escaped(b.Title))
	if b.Subtitle != "" {
		m.apart()
		m.line(escaped(b.Subtitle))
	}
	for _, c := range b.Chapters {
		m.level, m.numbered = "##", numbered(c.Blocks)
		if c.Title != "" {
			m.apart()
			m.line("## " + escaped(c.Title))
			m.level = "###"
		}
		for i, block := range c.Blocks {
			_, was := block.(Step)
			if i > 0 && was {
				_, was = c.Blocks[i-1].(Step)
			}
			if i == 0 || !was {
				m.apart()
			}
			m.block(block)
		}
	}
	return m.out.String()
}

// markdown sets blocks one after the other.
type markdown struct {
	out      strings.Builder
	level    string // of a heading in the chapter
	numbered bool   // steps are items of numbered lists
	fixed    Fixed
}

// numbered reports whether steps that stand one below the other have numbers that rise by
// one. Only then does a reader of Markdown show the numbers of a list as they are written.
func numbered(blocks []Block) bool {
	for i := 1; i < len(blocks); i++ {
		before, was := blocks[i-1].(Step)
		if s, is := blocks[i].(Step); was && is && s.Number != before.Number+1 {
			return false
		}
	}
	return true
}

func (m *markdown) line(text string) { m.out.WriteString(text + "\n") }

// apart makes sure of one empty line.
func (m *markdown) apart() {
	if text := m.out.String(); text != "" && !strings.HasSuffix(text, "\n\n") {
		m.line("")
	}
}

func (m *markdown) block(b Block) {
	switch b := b.(type) {
	case Heading:
		m.line(m.level + " " + escaped(string(b)))
	case Text:
		m.line(escaped(string(b)))
	case Facts:
		for _, f := range b {
			m.line("- **" + escaped(f.Name) + "**: " + escaped(f.Value))
		}
	case Bullets:
		m.items("- ", b)
	case Ticks:
		m.ticks("", b)
	case Message:
		m.line("> **" + escaped(b.Signal) + "** " + escaped(b.Text))
	case Table:
		m.table(b)
	case Figure:
		m.line("*" + escaped(b.Alt) + "* " + escaped(b.Caption))
	case Step:
		m.step(b)
	case Entry:
		m.entry(b)
	}
}

func (m *markdown) items(mark string, list []string) {
	for _, item := range list {
		m.line(mark + escaped(item))
	}
}

func (m *markdown) ticks(in string, t Ticks) {
	m.line(in + "**" + escaped(t.Title) + "**")
	m.line("")
	m.items(in+"- [ ] ", t.Items)
}

// step is an item of a list; what belongs to it stands under its text.
func (m *markdown) step(s Step) {
	mark := fmt.Sprintf("%d. ", s.Number)
	in := strings.Repeat(" ", len(mark))
	if !m.numbered {
		mark, in = fmt.Sprintf("- **%d.** ", s.Number), "  "
	}
	under := func(texts []string) {
		for _, text := range texts {
			m.apart()
			m.line(in + escaped(text))
		}
	}
	doing := append(slices.Clone(s.First), s.Title)
	m.line(mark + escaped(doing[0]))
	under(doing[1:])
	for _, w := range s.Before {
		under([]string{w.Signal + ". " + w.Text})
	}
	under(m.fixed.taken(s.Needs))
	under(s.Notes)
	under(s.Signs)
	if s.LastCall != nil {
		m.apart()
		m.ticks(in, *s.LastCall)
	}
	under(s.Then)
	if len(s.First)+len(s.Then)+len(s.Before)+len(s.Needs)+len(s.Notes)+len(s.Signs) > 0 || s.LastCall != nil {
		m.apart()
	}
}

func (m *markdown) entry(e Entry) {
	if e.Title != "" {
		m.line("**" + escaped(e.Title) + "**")
	}
	for _, text := range e.Texts {
		m.apart()
		m.line(escaped(text))
	}
	for _, l := range e.Lists {
		if l.Title != "" {
			m.apart()
			m.line(escaped(l.Title))
		}
		m.apart()
		for i, item := range l.Items {
			mark := "- "
			if l.Numbered {
				mark = fmt.Sprintf("%d. ", i+1)
			}
			m.line(mark + escaped(item))
		}
	}
}

func (m *markdown) table(t Table) {
	if t.Caption != "" {
		m.line("**" + escaped(t.Caption) + "**")
		m.line("")
	}
	row := func(cells []string) {
		for _, c := range cells {
			m.out.WriteString("| " + escaped(c) + " ")
		}
		m.line("|")
	}
	row(t.Head)
	m.line(strings.Repeat("| --- ", len(t.Head)) + "|")
	for _, r := range t.Rows {
		row(cellTexts(r))
	}
}

// escapes keep a text from being read as Markdown or HTML.
var escapes = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`,
	"<", "&lt;", ">", "&gt;", "&", "&amp;", "#", `\#`, "|", `\|`, "~", `\~`)

// escaped is a text on one line of which nothing is markup.
func escaped(s string) string {
	return escapes.Replace(oneLine(s))
}
