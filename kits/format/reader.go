package format

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"dryfit/kits/plain"
)

// Decode reads a tree as a value of a shape. Faults say what is wrong; the value
// then holds the usable part.
func Decode[V any](file string, root *yaml.Node, s Shape[V]) (V, Faults) {
	r := &reader{file: file}
	v, _ := s.read(r, root)
	return v, r.faults
}

// reader collects the faults of one file while its values are read.
type reader struct {
	file   string
	faults Faults
	path   []string // keys above the value being read
	Suggester
}

func (r *reader) pos(n *yaml.Node) Pos { return Pos{r.file, n.Line, n.Column} }

// fault reports what is wrong with the value being read.
func (r *reader) fault(n *yaml.Node, format string, args ...any) {
	what := plain.Text(fmt.Sprintf(format, args...))
	if len(r.path) > 0 {
		what = plain.Text(strings.Join(r.path, ": ")) + ": " + what
	}
	r.faults.Add(r.pos(n), "%s", what)
}

func (r *reader) at(key string, read func()) {
	r.path = append(r.path, key)
	read()
	r.path = r.path[:len(r.path)-1]
}

// hint suggests what an unknown key was meant to be.
func (r *reader) hint(k, value *yaml.Node, names []string) string {
	if value.Tag == "!!null" && value.Value == "" {
		return "; if it belongs to the text before the comma, put that text in quotes"
	}
	if nearest := r.Suggest(k.Value, names); nearest != "" {
		return nearest
	}
	return "; known are " + strings.Join(names, ", ")
}

// pairs visits the entries of a mapping, reports keys that are not text or are
// duplicates, and returns the keys given.
func (r *reader) pairs(n *yaml.Node, visit func(k, v *yaml.Node)) map[string]bool {
	given := make(map[string]bool, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		switch {
		case k.Kind != yaml.ScalarNode || k.Tag != "!!str":
			r.fault(k, "a key must be text, not %s%s", kindOf(k), quoteHint(k))
		case given[k.Value]:
			r.fault(k, "%q is given twice; remove one", k.Value)
		default:
			given[k.Value] = true
			visit(k, v)
		}
	}
	return given
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

func isNothing(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

// quoteHint says how to quote text that YAML takes for something else.
func quoteHint(n *yaml.Node) string {
	if n.Kind != yaml.ScalarNode || isNothing(n) {
		return ""
	}
	return "; put it in quotes"
}
