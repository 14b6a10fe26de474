package kits

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Limits of a kit file. A kit of a thousand pieces takes about 100 kB.
const (
	MaxBytes  = 4 << 20 // size of the file
	MaxMarks  = 400_000 // commas, colons, brackets, hyphens and lines: what makes YAML values
	MaxDepth  = 16      // nesting of lists and mappings
	MaxPieces = 20_000
	maxList   = 20_000  // entries of one list or mapping
	maxNamed  = 200_000 // pieces that all names of parts together stand for
	maxInside = 16      // nesting of spaces

	maxPrinters = 20  // kinds of printers
	maxOfKind   = 100 // printers of one kind
)

// FileName is the name of the kit file in a kit's folder.
const FileName = "kit.yaml"

// Find returns the kit file that a path means: the file itself, or kit.yaml in
// the folder.
func Find(path string) (string, error) {
	info, err := os.Stat(path)
	if err != nil {
		return "", plainPathError(err)
	}
	if !info.IsDir() {
		return path, nil
	}
	file := filepath.Join(path, FileName)
	if _, err := os.Stat(file); err != nil {
		return "", fmt.Errorf("%s has no %s", Plain(path), FileName)
	}
	return file, nil
}

func plainPathError(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", Plain(pe.Path), pe.Err)
	}
	return err
}

// ReadFile finds and reads the kit file that path means. The error is [Faults]
// when the file can be read but is wrong.
func ReadFile(path string) (*Kit, error) {
	file, data, err := ReadText(path)
	if err != nil {
		return nil, err
	}
	return Read(file, data)
}

// ReadText finds the kit file that path means and returns its name and text, of a file
// that is too large no more than shows that.
func ReadText(path string) (file string, data []byte, err error) {
	if file, err = Find(path); err != nil {
		return "", nil, err
	}
	f, err := os.Open(file)
	if err != nil {
		return "", nil, plainPathError(err)
	}
	defer f.Close()
	if data, err = io.ReadAll(io.LimitReader(f, MaxBytes+1)); err != nil {
		return "", nil, plainPathError(err)
	}
	return file, data, nil
}

// Read reads the text of a kit file; name is used for places only. The error is
// always [Faults].
func Read(name string, data []byte) (*Kit, error) {
	r := &reader{file: name, what: "kit file", empty: "is empty; start with kit: and the name of the kit"}
	root := r.parse(data)
	if root == nil {
		return nil, r.faults.err()
	}
	r.inspect(root, 1)
	if len(r.faults) > 0 {
		return nil, r.faults.err()
	}
	kit, _ := kitShape.read(r, root)
	kit.File = name
	kit.resolve(&r.faults)
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	return &kit, nil
}

// reader collects the faults of one file while its values are read.
type reader struct {
	file   string
	what   string // what the file is
	empty  string // the fault of an empty one; none if it may be empty
	faults Faults
	path   []string // keys above the value being read
	tried  int      // unknown names for which the nearest was looked up
}

func (r *reader) pos(n *yaml.Node) Pos { return Pos{r.file, n.Line, n.Column} }

// fault reports what is wrong with the value being read.
func (r *reader) fault(n *yaml.Node, format string, args ...any) {
	what := Plain(fmt.Sprintf(format, args...))
	if len(r.path) > 0 {
		what = Plain(strings.Join(r.path, ": ")) + ": " + what
	}
	r.faults.add(r.pos(n), "%s", what)
}

func (r *reader) at(key string, read func()) {
	r.path = append(r.path, key)
	read()
	r.path = r.path[:len(r.path)-1]
}

// suggest looks up the nearest known name, but not for more faults than are kept.
func (r *reader) suggest(name string, known []string) string {
	if r.tried++; r.tried > maxFaults || len(name) > maxIDLength {
		return ""
	}
	return didYouMean(name, known)
}

// hint says what an unknown key may have been meant to be.
func (r *reader) hint(k, value *yaml.Node, names []string) string {
	if value.Tag == "!!null" && value.Value == "" {
		return "; if it belongs to the text before the comma, put that text in quotes"
	}
	return r.suggest(k.Value, names)
}

// pairs visits the entries of a mapping, reports keys that are no text or stand
// twice, and returns the keys given.
func (r *reader) pairs(n *yaml.Node, visit func(k, v *yaml.Node)) map[string]bool {
	given := make(map[string]bool, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		switch {
		case k.Kind != yaml.ScalarNode || k.Tag != "!!str":
			r.fault(k, "a key must be text, not %s", kindOf(k))
		case given[k.Value]:
			r.fault(k, "%q stands here a second time; remove one", k.Value)
		default:
			given[k.Value] = true
			visit(k, v)
		}
	}
	return given
}

// parse turns the text into a tree, or reports why it cannot.
func (r *reader) parse(data []byte) *yaml.Node {
	whole := Pos{File: r.file}
	switch {
	case len(data) > MaxBytes:
		r.faults.add(whole, "is larger than %d MB, the most a %s may have", MaxBytes>>20, r.what)
		return nil
	case !utf8.Valid(data):
		line, col := badUTF8(data)
		r.faults.add(Pos{r.file, line, col}, "is not UTF-8 text; save the file as UTF-8")
		return nil
	case marks(data) > MaxMarks:
		r.faults.add(whole, "has more than %d values and lines, the most a %s may have", MaxMarks, r.what)
		return nil
	case deepest(data) > maxFlowDepth:
		r.faults.add(whole, "has brackets nested more than %d deep", maxFlowDepth)
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		switch {
		case !errors.Is(err, io.EOF):
			r.syntax(err)
		case r.empty != "":
			r.faults.add(whole, "%s", r.empty)
		}
		return nil
	}
	var second yaml.Node
	switch err := dec.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		r.syntax(err)
		return nil
	default:
		r.faults.add(r.pos(&second), "a second document starts here; a %s is one document, remove the line ---", r.what)
		return nil
	}
	return doc.Content[0]
}

var yamlLine = regexp.MustCompile(`line (\d+): `)

// syntax reports an error of the YAML parser, which knows lines only, and those
// only roughly.
func (r *reader) syntax(err error) {
	text, line := strings.TrimPrefix(err.Error(), "yaml: "), 1
	if m := yamlLine.FindStringSubmatchIndex(text); m != nil {
		line, _ = strconv.Atoi(text[m[2]:m[3]]) // digits by the pattern
		text = text[:m[0]] + text[m[1]:]
	}
	r.faults.add(Pos{r.file, line, 1}, "is not YAML, near this line: %s%s", Plain(text), yamlHint(text))
}

// yamlHint says what is most often behind an error of the YAML parser.
func yamlHint(text string) string {
	switch {
	case strings.Contains(text, "cannot start any token"):
		return "; look for a tab, and use spaces instead"
	case strings.Contains(text, "did not find expected"), strings.Contains(text, "while scanning a quoted"), strings.Contains(text, "mapping values"), strings.Contains(text, "could not find expected"):
		return "; look on this line and the next for an open { or [, a missing quote or comma, or other indentation; text with , : # or ' needs double quotes"
	}
	return ""
}

// inspect reports what a kit file may not use, whatever it says: anchors,
// aliases, merge keys, tags, control characters, deep nesting.
func (r *reader) inspect(n *yaml.Node, depth int) {
	if depth > MaxDepth {
		r.fault(n, "is nested more than %d deep", MaxDepth)
		return
	}
	switch {
	case n.Kind == yaml.AliasNode:
		r.fault(n, "*%s: aliases are not read; write the value out", n.Value)
		return
	case n.Anchor != "":
		r.fault(n, "&%s: anchors are not read; write the value out", n.Anchor)
	case n.Tag == "!!merge":
		r.fault(n, "<<: merge keys are not read; write the keys out")
	case n.Style&yaml.TaggedStyle != 0:
		r.fault(n, "%s: tags are not read; remove it", n.Tag)
	}
	if n.Kind == yaml.ScalarNode {
		for _, c := range n.Value {
			if steers(c) && c != '\n' && c != '\t' {
				r.fault(n, "has the control character U+%04X; remove it", c)
				break
			}
		}
	}
	for _, c := range n.Content {
		r.inspect(c, depth+1)
	}
}

// marks counts the characters that can start a YAML value: an upper bound of the
// values the parser would make of the text, taken before it makes any.
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

// maxFlowDepth bounds brackets before the parser sees them, text included.
const maxFlowDepth = 1000

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

func kindOf(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a mapping"
	case yaml.SequenceNode:
		return fmt.Sprintf("a list of %d", len(n.Content))
	case yaml.ScalarNode:
		switch n.Tag {
		case "!!null":
			return "nothing"
		case "!!bool":
			return n.Value
		case "!!int", "!!float":
			return "the number " + n.Value
		case "!!timestamp":
			return "the date " + n.Value
		}
		return "text"
	}
	return "this"
}
