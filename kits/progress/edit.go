package progress

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"dryfit/kits"
	"dryfit/kits/plain"
)

// editor changes the tree of a progress file. Trees have no empty lines, so those become
// comments while the file is edited.
type editor struct {
	head string // comments of a file that holds nothing else
	root *yaml.Node
}

const emptyLine = "#~ an empty line"

// editor parses the file once more, with its empty lines.
func (f *File) editor(k *kits.Kit) (*editor, error) {
	content := strings.ReplaceAll(string(f.text), "\r\n", "\n")
	lines := strings.Split(strings.TrimRight(content, "\n\t "), "\n")
	for i, l := range lines {
		if strings.TrimSpace(l) == "" {
			lines[i] = emptyLine
		}
	}
	e := &editor{root: &yaml.Node{Kind: yaml.DocumentNode}}
	if err := yaml.Unmarshal([]byte(strings.Join(lines, "\n")), e.root); err != nil {
		return nil, fmt.Errorf("%s: %w", plain.Text(f.Name), err) // it was read before, so this is rare
	}
	if len(e.root.Content) == 0 {
		if e.head = strings.TrimSpace(content); e.head == "" {
			e.head = heading(k)
		}
		e.root.Kind = yaml.DocumentNode
		e.root.Content = []*yaml.Node{{Kind: yaml.MappingNode, Tag: "!!map"}}
	}
	return e, nil
}

// edited returns the file after an edit. It is an error if it cannot be edited safely, which
// shows when the result cannot be read, or does not say what is wanted.
func (f *File) edited(k *kits.Kit, edit func(*editor), says func(after *File) bool) (*File, error) {
	e, err := f.editor(k)
	if err != nil {
		return nil, err
	}
	edit(e)
	text, err := e.text()
	if err != nil {
		return nil, err
	}
	after, err := Read(f.Name, text)
	if err != nil || !says(after) {
		return nil, f.unsafe()
	}
	return after, nil
}

// heading begins a new file.
func heading(k *kits.Kit) string {
	return fmt.Sprintf(`# How far %s is printed and built: kept by dryfit mark, and safe to edit by hand.
# pieces: a piece, or a part for all its copies: printed, cleaned, painted, fitted
# done: closings, wires and tasks, by name
# ticked: items of last calls, ticked off on the page
# tests: test prints, the oldest first
# plates: plates of the printing plan, which keep their numbers
%s; an edit by hand may leave it as it is.`, strings.Join(strings.Fields(plain.Text(k.Name)), " "), promise)
}

// text is the file as edited.
func (e *editor) text() ([]byte, error) {
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := enc.Encode(e.root); err != nil {
		return nil, err
	}
	var lines []string
	if e.head != "" {
		lines = append(lines, e.head)
	}
	for _, l := range strings.Split(b.String(), "\n") {
		switch strings.TrimSpace(l) {
		case "": // set by the encoder, which puts one after some comments
		case emptyLine:
			lines = append(lines, "")
		default:
			lines = append(lines, l)
		}
	}
	return []byte(strings.Join(lines, "\n") + "\n"), nil
}

// under is the value of a key of the file, made if need be.
func (e *editor) under(key string, kind yaml.Kind) *yaml.Node {
	root := e.root.Content[0]
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key {
			v := root.Content[i+1]
			if v.Tag == "!!null" {
				v.Kind, v.Tag, v.Value = kind, "", ""
			}
			return v
		}
	}
	v := &yaml.Node{Kind: kind}
	root.Content = append(root.Content, word(key), v)
	return v
}

func word(s string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s} }

// listed adds a text to those of a list, or takes it out.
func (e *editor) listed(key, name string, is bool) {
	n := e.under(key, yaml.SequenceNode)
	if n.Kind == yaml.ScalarNode {
		n.Kind, n.Tag, n.Content, n.Value = yaml.SequenceNode, "", []*yaml.Node{word(n.Value)}, ""
	}
	i := slices.IndexFunc(n.Content, func(c *yaml.Node) bool { return c.Value == name })
	switch {
	case is && i < 0:
		n.Content = append(n.Content, word(name))
	case !is && i >= 0:
		remove(n, i, 1)
	}
}

// remove takes n nodes out of a list or mapping. Comments above and below them are kept:
// they may be about more than this one entry.
func remove(from *yaml.Node, i, n int) {
	gone := from.Content[i]
	kept := joined(gone.HeadComment, gone.FootComment)
	from.Content = slices.Delete(from.Content, i, i+n)
	switch {
	case kept == "":
	case i < len(from.Content):
		next := from.Content[i]
		next.HeadComment = joined(kept, next.HeadComment)
	case i >= n:
		last := from.Content[i-n]
		last.FootComment = joined(last.FootComment, kept)
	default:
		from.HeadComment = joined(from.HeadComment, kept)
	}
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "\n" + b
}

// set writes the states of an entry, made if need be; none removes it.
func (e *editor) set(name string, s States) {
	n := e.under("pieces", yaml.MappingNode)
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value != name {
			continue
		}
		if s == 0 {
			remove(n, i, 2)
		} else {
			write(n.Content[i+1], s)
		}
		return
	}
	if s != 0 {
		v := word("")
		write(v, s)
		n.Content = append(n.Content, word(name), v)
	}
}

// write changes the value of an entry; items that stay keep their comments.
func write(n *yaml.Node, s States) {
	old := n.Content
	if n.Kind == yaml.ScalarNode {
		if len(s.list()) == 1 {
			n.Value, n.Style = s.String(), 0
			return
		}
		n.Kind, n.Tag, n.Value, n.Style = yaml.SequenceNode, "", "", yaml.FlowStyle
	}
	n.Content = nil
	for _, name := range s.Names() {
		i := slices.IndexFunc(old, func(c *yaml.Node) bool { return c.Value == name })
		if i >= 0 {
			n.Content = append(n.Content, old[i])
		} else {
			n.Content = append(n.Content, word(name))
		}
	}
}
