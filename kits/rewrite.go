package kits

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Rewrite is the text of a kit file at another scale. Only numbers that change, the scale
// and a comment about the meshes are other than before; everything else stays to the
// byte. Lengths are rounded to a hundredth of a mm, or to three digits where that is
// finer. The error is [Faults], or says what cannot be rewritten.
func Rewrite(name string, data []byte, s Scaling) ([]byte, error) {
	k, err := Read(name, data)
	if err != nil {
		return nil, err
	}
	root, _ := Tree(name, "kit file", data) // it has just been read
	e := &edits{text: data, lines: lineStarts(data)}
	nodes := map[[2]int]*yaml.Node{}
	byPlace(root, nodes)
	k.scaling(func(at Pos, power int, _ ...*float64) {
		n := nodes[[2]int{at.Line, at.Col}]
		switch {
		case at.Line == 0 || s.Factor == 1: // it follows from others, or all stays
		case n.Kind == yaml.ScalarNode:
			e.number(n, k.Unit, s.Factor, power)
		default:
			for _, c := range n.Content {
				e.number(c, k.Unit, s.Factor, power)
			}
		}
	})
	if s.To != s.From {
		e.scale(valueOf(root, "scale"), s)
	}
	if valueOf(root, "meshes") != nil && s.Factor != 1 {
		e.tellOfMeshes(root, s)
	}
	if e.err != nil {
		return nil, fmt.Errorf("%s: %w", Plain(name), e.err)
	}
	out := e.apply()
	if _, err := Read(name, out); err != nil {
		return nil, fmt.Errorf("at %s it would not be a kit file any more: %w", s, err)
	}
	return out, nil
}

// number scales a number: a length, or with the third power what goes with the volume.
func (e *edits) number(n *yaml.Node, u Unit, factor float64, power int) {
	v, _ := strconv.ParseFloat(n.Value, 64) // read before
	v *= math.Pow(factor, float64(power))
	decimals := 2
	if power == 1 {
		decimals = map[string]int{"mm": 2, "cm": 3, "in": 4}[u.Name]
	}
	if v != 0 {
		decimals = max(decimals, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	e.swap(n, n.Value, plainNumber(v, decimals))
}

// byPlace notes the lists and the values, keys left out, by where they begin.
func byPlace(n *yaml.Node, into map[[2]int]*yaml.Node) {
	if n.Kind != yaml.MappingNode && n.Tag != "!!null" { // nothing has no place of its own
		into[[2]int{n.Line, n.Column}] = n
	}
	for i, c := range n.Content {
		if n.Kind != yaml.MappingNode || i%2 == 1 {
			byPlace(c, into)
		}
	}
}

func valueOf(root *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key {
			return root.Content[i+1]
		}
	}
	return nil
}

// edits are changes of a text, by place.
type edits struct {
	text  []byte
	lines []int // where each line begins
	list  []edit
	err   error
}

type edit struct {
	from, to int // bytes
	new      string
}

// offset is where a node begins.
func (e *edits) offset(n *yaml.Node) int {
	at := e.lines[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(e.text[at:])
		at += size
	}
	return at
}

// swap puts a text in the place of another at which a node begins.
func (e *edits) swap(n *yaml.Node, old, new string) {
	at := e.offset(n)
	if !bytes.HasPrefix(e.text[at:], []byte(old)) {
		e.err = fmt.Errorf("line %d: %s is not written plainly and cannot be replaced; write it on one line without escapes", n.Line, Plain(old))
		return
	}
	e.list = append(e.list, edit{at, at + len(old), new})
}

// scale puts the new scale, in the quotes of the old.
func (e *edits) scale(n *yaml.Node, s Scaling) {
	quote := ""
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		quote = `"`
	case n.Style&yaml.SingleQuotedStyle != 0:
		quote = "'"
	}
	e.swap(n, quote+n.Value+quote, `"`+s.To+`"`)
}

// meshNote begins the comment about meshes, so that the next rescaling replaces it.
const meshNote = "# Rescaled: "

// tellOfMeshes puts a comment above the line of meshes or, where lines are no entries of
// their own, at the beginning.
func (e *edits) tellOfMeshes(root *yaml.Node, s Scaling) {
	scale := ""
	if s.From != "" {
		scale = fmt.Sprintf(" of their size at %s", s.From)
	}
	note := fmt.Sprintf("%sexport the meshes again at %s%s; those of fixed-size parts keep their size, at their new places.", meshNote, s.Percent(), scale)
	line := 1
	if root.Style&yaml.FlowStyle == 0 {
		line = valueOf(root, "meshes").Line
	}
	at := e.lines[line-1]
	ending := "\n"
	if bytes.Contains(e.text, []byte("\r\n")) {
		ending = "\r\n"
	}
	from := at
	if line == 1 && bytes.HasPrefix(e.text, []byte("\uFEFF")) {
		at += len("\uFEFF")
		from = at
	}
	if line > 1 && bytes.HasPrefix(e.text[e.lines[line-2]:], []byte(meshNote)) {
		from = e.lines[line-2]
	}
	if line == 1 && bytes.HasPrefix(e.text[from:], []byte(meshNote)) {
		at = e.lines[1] // a comment alone is no kit, so there is a second line
	}
	e.list = append(e.list, edit{from, at, note + ending})
}

// apply makes the changes, the last in the text first.
func (e *edits) apply() []byte {
	slices.SortFunc(e.list, func(a, b edit) int { return b.from - a.from })
	text := string(e.text)
	for _, c := range e.list {
		text = text[:c.from] + c.new + text[c.to:]
	}
	return []byte(text)
}

// lineStarts tells where each line begins. YAML counts lines by carriage returns, line
// feeds, both together, and three rarer characters.
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
