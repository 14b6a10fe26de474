package document

import (
	"fmt"
	"strings"
)

// Text sets the document for a terminal: lines of at most [LineWidth] characters, with
// headings in bold if asked for. The title is left out: whoever reads it has just asked
// for it. Pictures are left out too.
func (b *Document) Text(bold bool) string {
	t := &terminal{bold: bold, fixed: b.Fixed}
	for i, c := range b.Chapters {
		if i > 0 {
			t.line("")
		}
		if c.Title != "" {
			t.heading(c.Title)
		}
		for k, block := range c.Blocks {
			if k > 0 && apart(c.Blocks[k-1], block) {
				t.line("")
			}
			t.block(block)
		}
	}
	return t.out.String()
}

// apart reports whether an empty line stands between two blocks: none below a heading,
// and none between the items of a list.
func apart(before, b Block) bool {
	e, is := before.(Entry)
	switch {
	case isHeading(before):
		return false
	case is && e.Title != "":
		return true
	}
	switch b := b.(type) {
	case Heading, Table, Facts, Ticks:
		return true
	case Entry:
		return b.Title != "" || !is
	}
	return fmt.Sprintf("%T", before) != fmt.Sprintf("%T", b)
}

// terminal sets blocks one after the other.
type terminal struct {
	out   strings.Builder
	bold  bool
	fixed Fixed
}

func (t *terminal) line(text string) {
	t.out.WriteString(strings.TrimRight(text, " "))
	t.out.WriteByte('\n')
}

// wrap writes a text in lines; the first starts with first, the others with as many
// blanks as rest.
func (t *terminal) wrap(first string, rest int, text string) {
	for _, l := range wrapped(first, strings.Repeat(" ", rest), text) {
		t.line(l)
	}
}

func (t *terminal) heading(text string) {
	for _, l := range wrapped("", "", text) {
		t.line(t.strong(l))
	}
}

// strong sets off a text. It is never the only sign of anything.
func (t *terminal) strong(text string) string {
	if !t.bold {
		return text
	}
	return "\x1b[1m" + text + "\x1b[0m"
}

func (t *terminal) block(b Block) {
	switch b := b.(type) {
	case Heading:
		t.heading(string(b))
	case Text:
		t.wrap("", 0, string(b))
	case Facts:
		t.facts(b)
	case Bullets:
		t.items("  - ", b)
	case Ticks:
		t.ticks("", b)
	case Message:
		t.message("  ", b)
	case Table:
		t.table(b)
	case Figure:
		t.wrap("", 0, b.Caption)
	case Step:
		t.step(b)
	case Entry:
		t.entry(b)
	}
}

// items writes a list of which each item has the mark before it.
func (t *terminal) items(mark string, list []string) {
	for _, item := range list {
		t.wrap(mark, len(mark), item)
	}
}

func (t *terminal) facts(facts Facts) {
	wide := 0
	for _, f := range facts {
		wide = max(wide, length(oneLine(f.Name)))
	}
	for _, f := range facts {
		first := "  " + padded(oneLine(f.Name), wide, false) + "  "
		t.wrap(first, wide+4, f.Value)
	}
}

func (t *terminal) ticks(in string, list Ticks) {
	for _, l := range wrapped(in, in, list.Title) {
		t.line(in + t.strong(strings.TrimPrefix(l, in)))
	}
	t.items(in+"[ ] ", list.Items)
}

func (t *terminal) message(in string, m Message) {
	t.wrap(in+"- ", len(in)+2, m.Signal+". "+m.Text)
}

func (t *terminal) step(s Step) {
	const in = "      "
	t.items("   -  ", s.First)
	t.wrap(fmt.Sprintf("%4d. ", s.Number), len(in), s.Title)
	for _, list := range [][]string{t.fixed.taken(s.Needs), s.Notes, s.Signs} {
		t.items(in, list)
	}
	for _, m := range s.Before {
		t.message(in, m)
	}
	if s.LastCall != nil {
		t.ticks(in, *s.LastCall)
	}
	t.items("   -  ", s.Then)
}

func (t *terminal) entry(e Entry) {
	in := "  "
	if e.Title != "" {
		t.heading(e.Title)
	}
	for i, text := range e.Texts {
		rest := len(in)
		if e.Title == "" {
			rest = 6
		}
		if e.Title == "" && i > 0 {
			in = strings.Repeat(" ", rest)
		}
		t.wrap(in, rest, text)
	}
	for _, l := range e.Lists {
		t.list(e.Title != "", l)
	}
}

// list is indented more below a text than below a title.
func (t *terminal) list(titled bool, l List) {
	in, mark := "  ", "     - "
	if !titled {
		in, mark = "    ", "      - "
	}
	if l.Title != "" {
		t.wrap(in, len(in), l.Title)
	}
	if !l.Numbered {
		t.items(mark, l.Items)
		return
	}
	for i, item := range l.Items {
		first := fmt.Sprintf("%s%3d. ", in, i+1)
		t.wrap(first, len(first), item)
	}
}
