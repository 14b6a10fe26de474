package document

import (
	"fmt"
	"strings"

	"dryfit/graphviz/picture"
)

// sound finds what would make a broken page of a book. It is about faults of the
// wording, never of a kit: a kit's texts may hold anything.
func (b *Document) sound() error {
	if strings.TrimSpace(b.Language) == "" {
		return fmt.Errorf("the document has no language")
	}
	if strings.TrimSpace(picture.Plain(b.Title)) == "" {
		return fmt.Errorf("the document has no title that can be read: give the kit a name")
	}
	n := names{has: map[string]bool{}}
	for _, c := range b.Chapters {
		n.add(c.ID)
		for _, block := range c.Blocks {
			if err := n.block(block); err != nil {
				return fmt.Errorf("chapter %q: %w", c.ID, err)
			}
		}
	}
	return n.fault()
}

// names are the places of a book and the links to them.
type names struct {
	has   map[string]bool
	links []string
	wrong error
}

func (n *names) block(b Block) error {
	switch b := b.(type) {
	case Heading, Text, Facts, Bullets, Ticks, Message, Entry:
	case Table:
		return n.table(b)
	case Figure:
		return drawn(&b)
	case Step:
		n.add(b.ID)
		for _, item := range b.Needs {
			n.link(item.Link)
		}
		return drawn(b.Figure)
	default:
		return fmt.Errorf("a block of type %T cannot be set", b)
	}
	return nil
}

func (n *names) table(t Table) error {
	for i, r := range t.Rows {
		if r.ID != "" {
			n.add(r.ID)
		}
		if len(r.Cells) != len(t.Head) {
			return fmt.Errorf("table %q: row %d has %d cells under %d heads", t.Caption, i+1, len(r.Cells), len(t.Head))
		}
		for _, c := range r.Cells {
			for _, l := range c.Links {
				n.link(l.ID)
			}
		}
	}
	return nil
}

func drawn(f *Figure) error {
	if f != nil && f.Picture == nil {
		return fmt.Errorf("figure %q has no picture", f.Caption)
	}
	return nil
}

func (n *names) add(id string) {
	if id == "" || strings.ContainsFunc(id, outsideID) {
		n.wrong = fmt.Errorf("%q is no ID: letters, digits and hyphens", id)
	} else if n.has[id] {
		n.wrong = fmt.Errorf("two places with the ID %q", id)
	}
	n.has[id] = true
}

func (n *names) link(id string) {
	if id != "" {
		n.links = append(n.links, id)
	}
}

func (n *names) fault() error {
	for _, id := range n.links {
		if !n.has[id] {
			return fmt.Errorf("a link to %q leads nowhere", id)
		}
	}
	return n.wrong
}

func outsideID(r rune) bool {
	return !(r == '-' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z')
}
