package format

import (
	"bytes"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"dryfit/kits/plain"
)

// Limits of a file. A kit of a thousand pieces takes about 100 kB.
const (
	MaxBytes = 4 << 20 // size of the file
	MaxMarks = 400_000 // commas, colons, brackets, hyphens and lines: what makes YAML values
	MaxDepth = 16      // nesting of lists and mappings

	maxFlowDepth = 1000 // nesting of brackets, those in texts included
)

// Tree parses the text of a file, which must be UTF-8, one document, within
// limits, and without anchors, aliases, merge keys, tags and control characters.
// what is the kind of file, for faults, and name is used for positions. It
// returns nil for a file that has only comments.
func Tree(name, what string, data []byte) (*yaml.Node, Faults) {
	r := &reader{file: name}
	root := r.parse(what, data)
	if root != nil {
		r.inspect(root, 1)
	}
	if len(r.faults) > 0 {
		return nil, r.faults
	}
	return root, nil
}

// parse checks the text before it is parsed, because the parser itself does not
// limit time and memory.
func (r *reader) parse(what string, data []byte) *yaml.Node {
	whole := Pos{File: r.file}
	switch {
	case len(data) > MaxBytes:
		r.faults.Add(whole, "is larger than %d MB, the limit for a %s", MaxBytes>>20, what)
		return nil
	case !utf8.Valid(data):
		line, col := badUTF8(data)
		r.faults.Add(Pos{r.file, line, col}, "is not UTF-8 text; save the file as UTF-8")
		return nil
	case marks(data) > MaxMarks:
		r.faults.Add(whole, "has more than %d values and lines, the limit for a %s", MaxMarks, what)
		return nil
	case deepest(data) > maxFlowDepth:
		r.faults.Add(whole, "has brackets nested more than %d deep", maxFlowDepth)
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc, second yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if !errors.Is(err, io.EOF) {
			r.syntax(err, data)
		}
		return nil
	}
	switch err := dec.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		r.syntax(err, nil)
		return nil
	default:
		r.faults.Add(r.pos(&second), "a second document starts here; a %s has one document, so remove the line ---", what)
		return nil
	}
	return doc.Content[0]
}

var yamlLine = regexp.MustCompile(`line (\d+): `)

// syntax reports an error of the YAML parser, which gives only approximate lines. data is
// the text of the first document, where the line is found; nil to take what the parser says.
func (r *reader) syntax(err error, data []byte) {
	text, line := strings.TrimPrefix(err.Error(), "yaml: "), 1
	if m := yamlLine.FindStringSubmatchIndex(text); m != nil {
		line, _ = strconv.Atoi(text[m[2]:m[3]]) // digits by the pattern
		text = text[:m[0]] + text[m[1]:]
	}
	if len(data) > 0 {
		line = brokenLine(data, line)
	}
	r.faults.Add(Pos{r.file, line, 1}, "is not YAML, near this line: %s%s", plain.Text(text), yamlHint(text))
}

// yamlHint gives the most common cause of an error of the YAML parser.
func yamlHint(text string) string {
	switch {
	case strings.Contains(text, "cannot start any token"):
		return "; look for a tab, and use spaces instead"
	case strings.Contains(text, "did not find expected"), strings.Contains(text, "while scanning a quoted"), strings.Contains(text, "mapping values"), strings.Contains(text, "could not find expected"):
		return "; look on this line and the next for an open { or [, a missing quote or comma, or other indentation; text with , : # or ' needs double quotes"
	}
	return ""
}

// inspect reports what files must not use: anchors, aliases, merge keys, tags,
// control characters, deep nesting.
func (r *reader) inspect(n *yaml.Node, depth int) {
	if depth > MaxDepth {
		r.fault(n, "is nested more than %d deep", MaxDepth)
		return
	}
	switch {
	case n.Kind == yaml.AliasNode:
		r.fault(n, "*%s: aliases are not supported; write out the value", n.Value)
		return
	case n.Anchor != "":
		r.fault(n, "&%s: anchors are not supported; write out the value", n.Anchor)
	case n.Tag == "!!merge":
		r.fault(n, "<<: merge keys are not supported; write out the keys")
	case n.Style&yaml.TaggedStyle != 0:
		r.fault(n, "%s: tags are not supported; remove it", n.Tag)
	}
	if n.Kind == yaml.ScalarNode {
		for _, c := range n.Value {
			if plain.Steers(c) && c != '\n' && c != '\t' {
				r.fault(n, "has the control character U+%04X; remove it", c)
				break
			}
		}
	}
	for _, c := range n.Content {
		r.inspect(c, depth+1)
	}
}

// marks counts the characters that can start a YAML value: an upper bound on the
// number of values, computed before parsing.
func marks(data []byte) int {
	n := 0
	for _, c := range data {
		switch c {
		case ',', ':', '[', '{', '-', '?', '\n', '\r':
			n++
		}
	}
	return n
}

// deepest counts nested brackets, including those in text.
func deepest(data []byte) int {
	depth, most := 0, 0
	for _, c := range data {
		switch c {
		case '[', '{':
			depth++
			most = max(most, depth)
		case ']', '}':
			depth = max(0, depth-1)
		}
	}
	return most
}

func badUTF8(data []byte) (line, col int) {
	line, col = 1, 1
	for len(data) > 0 {
		c, size := utf8.DecodeRune(data)
		if c == utf8.RuneError && size == 1 {
			break
		}
		if col++; c == '\n' {
			line, col = line+1, 1
		}
		data = data[size:]
	}
	return line, col
}
