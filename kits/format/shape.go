package format

import "gopkg.in/yaml.v3"

// Shape is one kind of value: how it is read, and how the schema and the reference
// describe it.
type Shape[V any] struct {
	// read reports faults to the reader, and whether the value can be used.
	read   func(r *reader, n *yaml.Node) (V, bool)
	schema Schema
	says   string // what a person writes, for the reference
	// partial values are worth keeping despite faults in them, so that their
	// names are known and the rest of the file can be checked.
	partial bool
}

// Placed is a value with its position.
type Placed[V any] struct {
	Value V
	Pos   Pos
}

// Text is a text with its position.
type Text = Placed[string]

// Ref is a name in the file that refers to something else in it.
type Ref struct {
	Name string
	Pos  Pos
}

// Check rejects the values for which fault returns a message.
func (s Shape[V]) Check(says string, sch Schema, fault func(V) string) Shape[V] {
	return Shape[V]{func(r *reader, n *yaml.Node) (V, bool) {
		var none V
		v, ok := s.read(r, n)
		if !ok {
			return none, false
		}
		if text := fault(v); text != "" {
			r.fault(n, "%s", text)
			return none, false
		}
		return v, true
	}, sch, says, false}
}

// Says is the shape with another description of what to write.
func (s Shape[V]) Says(what string) Shape[V] {
	s.says = what
	return s
}

// Then is Check for what the schema cannot express.
func (s Shape[V]) Then(fault func(V) string) Shape[V] { return s.Check(s.says, s.schema, fault) }

// Mapped turns a value of one type into another.
func Mapped[A, B any](s Shape[A], to func(A) B) Shape[B] {
	return Shape[B]{func(r *reader, n *yaml.Node) (B, bool) {
		a, ok := s.read(r, n)
		if !ok && !s.partial {
			var none B
			return none, false
		}
		return to(a), ok
	}, s.schema, s.says, s.partial}
}

// Optional reads a value into a pointer, to distinguish a missing value from
// zero.
func Optional[V any](s Shape[V]) Shape[*V] {
	s.partial = false
	return Mapped(s, func(v V) *V { return &v })
}

// Place adds the position of a value.
func Place[V any](s Shape[V]) Shape[Placed[V]] {
	return Shape[Placed[V]]{func(r *reader, n *yaml.Node) (Placed[V], bool) {
		v, ok := s.read(r, n)
		if !ok {
			return Placed[V]{}, false
		}
		return Placed[V]{v, r.pos(n)}, true
	}, s.schema, s.says, false}
}

// Single reads one value and says why there cannot be a list of them.
func Single[V any](s Shape[V], why string) Shape[V] {
	read := s.read
	s.read = func(r *reader, n *yaml.Node) (V, bool) {
		if n.Kind == yaml.SequenceNode {
			var none V
			r.fault(n, "%s", why)
			return none, false
		}
		return read(r, n)
	}
	return s
}

// List is a list of least to most values.
func List[V any](s Shape[V], least, most int) Shape[[]V] {
	return Shape[[]V]{func(r *reader, n *yaml.Node) ([]V, bool) {
		if n.Kind != yaml.SequenceNode {
			r.fault(n, "must be a list, not %s", kindOf(n))
			return nil, false
		}
		return readList(r, n, s, least, most)
	}, listSchema(s, least, most), "list of " + s.says, false}
}

// Entries is a list of mappings.
func Entries[V any](s Shape[V], least, most int) Shape[[]*V] {
	return List(Mapped(s, func(v V) *V { return &v }), least, most)
}

// OneOrMore is a single value, or a list of least to most.
func OneOrMore[V any](s Shape[V], least, most int) Shape[[]V] {
	return Shape[[]V]{func(r *reader, n *yaml.Node) ([]V, bool) {
		if n.Kind == yaml.SequenceNode {
			return readList(r, n, s, least, most)
		}
		v, ok := s.read(r, n)
		if !ok {
			return nil, false
		}
		return []V{v}, true
	}, Schema{"anyOf": []Schema{s.schema, listSchema(s, least, most)}}, s.says + ", or a list of them", false}
}

func listSchema[V any](s Shape[V], least, most int) Schema {
	return Schema{"type": "array", "items": s.schema, "minItems": least, "maxItems": most}
}

func readList[V any](r *reader, n *yaml.Node, s Shape[V], least, most int) ([]V, bool) {
	if len(n.Content) < least || len(n.Content) > most {
		if least == most {
			r.fault(n, "must have exactly %d entries", least)
		} else {
			r.fault(n, "must have %d to %d entries, not %d", least, most, len(n.Content))
		}
		return nil, false
	}
	var values []V
	ok := true
	for _, c := range n.Content {
		v, fine := s.read(r, c)
		if fine || s.partial {
			values = append(values, v)
		}
		ok = ok && fine
	}
	return values, ok
}

// Distinct rejects a list that has the same text twice.
func Distinct[V any](s Shape[V]) Shape[V] {
	read := s.read
	s.read = func(r *reader, n *yaml.Node) (V, bool) {
		given := make(map[string]bool, len(n.Content))
		before := len(r.faults)
		for _, c := range n.Content {
			if given[c.Value] && c.Kind == yaml.ScalarNode {
				r.fault(c, "%q is given twice; remove one", c.Value)
			}
			given[c.Value] = true
		}
		v, ok := read(r, n)
		return v, ok && len(r.faults) == before
	}
	return s
}

// DistinctBy rejects a list in which two values have the same key, which says what it is.
func DistinctBy[V any, K comparable](s Shape[[]V], says string, key func(V) K) Shape[[]V] {
	read := s.read
	s.read = func(r *reader, n *yaml.Node) ([]V, bool) {
		list, ok := read(r, n)
		if !ok {
			return list, false
		}
		given := make(map[K]bool, len(list))
		for i, v := range list {
			if given[key(v)] {
				r.fault(n.Content[i], "%s %v is given twice; remove one", says, key(v))
				ok = false
			}
			given[key(v)] = true
		}
		return list, ok
	}
	return s
}

// OrNothing reads an empty value as zero.
func OrNothing[V any](s Shape[V]) Shape[V] {
	read := s.read
	s.read = func(r *reader, n *yaml.Node) (v V, ok bool) {
		if isNothing(n) {
			return v, true
		}
		return read(r, n)
	}
	s.schema = Schema{"anyOf": []Schema{{"type": "null"}, s.schema}}
	return s
}

// OrEmpty reads an empty value as an empty mapping, as when people write just
// "hull:".
func OrEmpty[V any](s Shape[V]) Shape[V] {
	return Shape[V]{func(r *reader, n *yaml.Node) (V, bool) {
		if isNothing(n) {
			n = &yaml.Node{Kind: yaml.MappingNode, Line: n.Line, Column: n.Column}
		}
		return s.read(r, n)
	}, Schema{"anyOf": []Schema{{"type": "null"}, s.schema}}, s.says, s.partial}
}

// Either reads a text by one shape and a mapping by another.
func Either[V any](text, mapping Shape[V]) Shape[V] {
	return Shape[V]{func(r *reader, n *yaml.Node) (V, bool) {
		if n.Kind == yaml.MappingNode {
			return mapping.read(r, n)
		}
		return text.read(r, n)
	}, Schema{"anyOf": []Schema{text.schema, mapping.schema}}, text.says + ", or a mapping", mapping.partial}
}
