package progress

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"dryfit/kits"
)

// File is a progress file as written.
type File struct {
	Name   string
	Pieces []Entry
	Done   []kits.Ref
	Ticked []Tick   // items of last calls
	Lines  []string // the same as sentences, from files written before ticks had ids

	text []byte
}

// Entry says what has been done to a piece, or to all copies of a part.
type Entry struct {
	kits.Ref
	States States
}

// Path is where the progress of a kit is kept: beside its file, with its name.
func Path(kitFile string) string {
	return strings.TrimSuffix(kitFile, filepath.Ext(kitFile)) + ".progress.yaml"
}

// ReadFile reads a progress file; one that is not there says that nothing has been
// begun. The error is [kits.Faults] when the file can be read but is wrong.
func ReadFile(path string) (*File, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &File{Name: path}, nil
	}
	if err != nil {
		return nil, plainPathError(err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, kits.MaxBytes+1))
	if err != nil {
		return nil, plainPathError(err)
	}
	return Read(path, data)
}

func plainPathError(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", kits.Plain(pe.Path), pe.Err)
	}
	return err
}

// Read reads the text of a progress file; name is used for places only. The error is
// always [kits.Faults], with all that is wrong.
func Read(name string, data []byte) (*File, error) {
	root, faults := kits.Tree(name, "progress file", data)
	if faults != nil {
		return nil, faults
	}
	f := &File{Name: name, text: data}
	if root == nil {
		return f, nil
	}
	r := &reader{file: f}
	r.root(root)
	if len(r.faults) == 0 {
		return f, nil
	}
	slices.SortStableFunc(r.faults, func(a, b kits.Fault) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
	return nil, r.faults
}

// maxFaults bounds how many faults are kept.
const maxFaults = 1000

type reader struct {
	file   *File
	faults kits.Faults
}

func (r *reader) pos(n *yaml.Node) kits.Pos {
	return kits.Pos{File: r.file.Name, Line: n.Line, Col: n.Column}
}

func (r *reader) fault(n *yaml.Node, format string, args ...any) {
	if len(r.faults) < maxFaults {
		r.faults = append(r.faults, kits.Fault{Pos: r.pos(n), Text: kits.Plain(fmt.Sprintf(format, args...))})
	}
}

var rootKeys = []string{"pieces", "done", "ticked"}

func (r *reader) root(n *yaml.Node) {
	r.pairs(n, "must be a mapping with the keys pieces, done and ticked", func(k, v *yaml.Node) {
		switch k.Value {
		case "pieces":
			r.pieces(v)
		case "done":
			r.texts(v, "done: must name steps: closings, wires and tasks", func(c *yaml.Node) {
				r.file.Done = append(r.file.Done, kits.Ref{Name: c.Value, Pos: r.pos(c)})
			})
		case "ticked":
			r.texts(v, "ticked: must be items of last calls", func(c *yaml.Node) { r.file.ticked(c.Value) })
		default:
			hint := kits.DidYouMean(k.Value, rootKeys)
			if hint == "" {
				hint = "; pieces stand under pieces:, closings, wires and tasks under done:"
			}
			r.fault(k, "unknown key %q%s", k.Value, hint)
		}
	})
}

// pairs visits the entries of a mapping and reports keys that are no text or stand
// twice.
func (r *reader) pairs(n *yaml.Node, must string, visit func(k, v *yaml.Node)) {
	if n.Kind != yaml.MappingNode {
		r.fault(n, "%s", must)
		return
	}
	given := make(map[string]bool, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		switch k := n.Content[i]; {
		case !isText(k):
			r.fault(k, "a key must be text; put it in quotes")
		case given[k.Value]:
			r.fault(k, "%q stands here a second time; remove one", k.Value)
		default:
			given[k.Value] = true
			visit(k, n.Content[i+1])
		}
	}
}

func (r *reader) pieces(n *yaml.Node) {
	if isNothing(n) {
		return
	}
	r.pairs(n, "pieces: must be a mapping from pieces to what has been done to them", func(k, v *yaml.Node) {
		before := len(r.faults)
		e := Entry{Ref: kits.Ref{Name: k.Value, Pos: r.pos(k)}, States: r.states(k.Value, v)}
		if len(r.faults) == before {
			r.file.Pieces = append(r.file.Pieces, e)
		}
	})
}

// states reads one state or a list of them.
func (r *reader) states(piece string, n *yaml.Node) States {
	items := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		items = n.Content
	}
	if len(items) == 0 || isNothing(n) {
		r.fault(n, "%s: says nothing; write one or more of %s, or remove it", piece, strings.Join(stateNames, ", "))
	}
	var set States
	for _, c := range items {
		s, known := StateOf(c.Value)
		switch {
		case isNothing(n):
		case !isText(c) || !known:
			r.fault(c, "%s: %q is none of %s%s", piece, c.Value, strings.Join(stateNames, ", "), kits.DidYouMean(c.Value, stateNames))
		case set&s != 0:
			r.fault(c, "%s: %s stands here a second time; remove one", piece, c.Value)
		}
		set |= s
	}
	return set
}

// texts visits a text or a list of them, each of which may stand there once.
func (r *reader) texts(n *yaml.Node, must string, visit func(c *yaml.Node)) {
	items := []*yaml.Node{n}
	switch {
	case isNothing(n):
		return
	case n.Kind == yaml.SequenceNode:
		items = n.Content
	}
	key, _, _ := strings.Cut(must, ":")
	given := make(map[string]bool, len(items))
	for _, c := range items {
		switch {
		case !isText(c) || c.Value == "":
			r.fault(c, "%s; put what is no plain text in quotes", must)
		case given[c.Value]:
			r.fault(c, "%s: %q stands here a second time; remove one", key, c.Value)
		default:
			given[c.Value] = true
			visit(c)
		}
	}
}

func isText(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!str" }

func isNothing(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }
