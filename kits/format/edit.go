package format

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"dryfit/kits/plain"
)

// Edits are changes to the text of a file. Everything else stays byte for byte.
type Edits struct {
	text  []byte
	lines []int // where each line begins
	nodes map[[2]int]*yaml.Node
	list  []edit
}

type edit struct {
	from, to int // bytes
	new      string
}

// NewEdits starts without changes. The root is the tree of the text.
func NewEdits(text []byte, root *yaml.Node) *Edits {
	e := &Edits{text: text, lines: lineStarts(text), nodes: map[[2]int]*yaml.Node{}}
	e.note(root)
	return e
}

// note records lists and values, but not keys, by where they start.
func (e *Edits) note(n *yaml.Node) {
	if n.Kind != yaml.MappingNode && !isNothing(n) { // nothing has no position of its own
		e.nodes[[2]int{n.Line, n.Column}] = n
	}
	for i, c := range n.Content {
		if n.Kind != yaml.MappingNode || i%2 == 1 {
			e.note(c)
		}
	}
}

// At is the list or value that starts at a position.
func (e *Edits) At(p Pos) *yaml.Node { return e.nodes[[2]int{p.Line, p.Col}] }

// offset is where a node starts.
func (e *Edits) offset(n *yaml.Node) int {
	at := e.lines[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(e.text[at:])
		at += size
	}
	return at
}

// Replace replaces one text by another at the start of a node. It fails if the
// old text is not written there literally.
func (e *Edits) Replace(n *yaml.Node, old, new string) error {
	at := e.offset(n)
	if !bytes.HasPrefix(e.text[at:], []byte(old)) {
		return fmt.Errorf("line %d: %s cannot be replaced as it is written; write it on one line without escapes", n.Line, plain.Text(old))
	}
	e.list = append(e.list, edit{at, at + len(old), new})
	return nil
}

// Comment puts a comment above a line, replacing one there with the same prefix.
func (e *Edits) Comment(line int, begins, rest string) {
	ending := "\n"
	if bytes.Contains(e.text, []byte("\r\n")) {
		ending = "\r\n"
	}
	from := e.lines[line-1]
	if line == 1 && bytes.HasPrefix(e.text, []byte("\uFEFF")) {
		from += len("\uFEFF")
	}
	to := from
	if line > 1 && bytes.HasPrefix(e.text[e.lines[line-2]:], []byte(begins)) {
		from = e.lines[line-2]
	}
	if line == 1 && bytes.HasPrefix(e.text[from:], []byte(begins)) {
		to = e.lines[1] // a comment alone has no value, so there is a second line
	}
	e.list = append(e.list, edit{from, to, begins + rest + ending})
}

// Apply makes the changes, which do not overlap, in one pass over the text.
func (e *Edits) Apply() []byte {
	slices.SortFunc(e.list, func(a, b edit) int { return cmp.Or(a.from-b.from, a.to-b.to) })
	text, at := make([]byte, 0, len(e.text)), 0
	for _, c := range e.list {
		text = append(append(text, e.text[at:c.from]...), c.new...)
		at = c.to
	}
	return append(text, e.text[at:]...)
}

// lineStarts lists where lines begin. YAML counts lines by carriage returns, line feeds,
// both together, and three rarer characters.
func lineStarts(text []byte) []int {
	starts := []int{0}
	for at := 0; at < len(text); {
		c, size := utf8.DecodeRune(text[at:])
		at += size
		if c == '\r' && at < len(text) && text[at] == '\n' {
			at++
		}
		if strings.ContainsRune("\r\n\u0085\u2028\u2029", c) {
			starts = append(starts, at)
		}
	}
	return starts
}

// Value is the value of a key of a mapping, nil if it is not there.
func Value(root *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key {
			return root.Content[i+1]
		}
	}
	return nil
}
