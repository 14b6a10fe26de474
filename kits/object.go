package kits

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// field is one key of a mapping that is read into a T.
type field[T any] struct {
	name     string
	doc      string
	says     string
	required bool
	read     func(r *reader, n *yaml.Node, into *T)
	schema   schema
}

// key describes a field: its name, the shape of its value, where the value goes,
// and what it means.
func key[T, V any](name string, s shape[V], at func(*T) *V, doc string) field[T] {
	return field[T]{name: name, doc: doc, says: s.says, schema: s.schema,
		read: func(r *reader, n *yaml.Node, into *T) {
			*at(into), _ = s.read(r, n) // a faulty value is zero, or what can be used of it
		}}
}

// must makes a field required.
func (f field[T]) must() field[T] {
	f.required = true
	return f
}

// rule says which keys of a mapping go together.
type rule struct {
	fault  func(has func(string) bool) string // empty when the rule holds
	schema schema
}

// exactlyOne asks for one of the keys and no more.
func exactlyOne(names ...string) rule {
	var alternatives []schema
	for _, n := range names {
		alternatives = append(alternatives, schema{"required": []string{n}})
	}
	return rule{func(has func(string) bool) string {
		switch present(names, has) {
		case 0:
			return fmt.Sprintf("needs %s", strings.Join(names, " or "))
		case 1:
			return ""
		}
		return fmt.Sprintf("can have only one of %s", strings.Join(names, " and "))
	}, schema{"oneOf": alternatives}}
}

// atMostOne asks for none or one of the keys.
func atMostOne(names ...string) rule {
	var pairs []schema
	for i, a := range names {
		for _, b := range names[i+1:] {
			pairs = append(pairs, schema{"required": []string{a, b}})
		}
	}
	return rule{func(has func(string) bool) string {
		if present(names, has) > 1 {
			return fmt.Sprintf("can have only one of %s", strings.Join(names, ", "))
		}
		return ""
	}, schema{"not": schema{"anyOf": pairs}}}
}

// atLeastOne asks for one or more of the keys.
func atLeastOne(names ...string) rule {
	var alternatives []schema
	for _, n := range names {
		alternatives = append(alternatives, schema{"required": []string{n}})
	}
	return rule{func(has func(string) bool) string {
		if present(names, has) == 0 {
			return fmt.Sprintf("needs %s", strings.Join(names, " or "))
		}
		return ""
	}, schema{"anyOf": alternatives}}
}

// onlyWith asks that a key stands only beside another.
func onlyWith(name, other string) rule {
	return rule{func(has func(string) bool) string {
		if has(name) && !has(other) {
			return fmt.Sprintf("%s makes sense only with %s", name, other)
		}
		return ""
	}, schema{"dependentRequired": map[string]any{name: []string{other}}}}
}

func present(names []string, has func(string) bool) int {
	n := 0
	for _, name := range names {
		if has(name) {
			n++
		}
	}
	return n
}

// object reads a mapping with known keys into a T. place, if not nil, is told
// where the mapping stands.
func object[T any](place func(*T) *Pos, fields []field[T], rules ...rule) shape[T] {
	names := fieldNames(fields)
	sch := objectSchema(fields, rules)
	return shape[T]{func(r *reader, n *yaml.Node) (T, bool) {
		var v T
		if n.Kind != yaml.MappingNode {
			r.fault(n, "must be a mapping with keys such as %s, not %s", strings.Join(names[:min(3, len(names))], ", "), kindOf(n))
			return v, false
		}
		if place != nil {
			*place(&v) = r.pos(n)
		}
		before := len(r.faults)
		given := r.pairs(n, func(k, value *yaml.Node) {
			i := slices.IndexFunc(fields, func(f field[T]) bool { return f.name == k.Value })
			if i < 0 {
				r.fault(k, "unknown key %q%s", k.Value, r.hint(k, value, names))
				return
			}
			r.at(k.Value, func() { fields[i].read(r, value, &v) })
		})
		has := func(name string) bool { return given[name] }
		for _, f := range fields {
			if f.required && !has(f.name) {
				r.fault(n, "needs %s: %s", f.name, f.doc)
			}
		}
		for _, rule := range rules {
			if text := rule.fault(has); text != "" {
				r.fault(n, "%s", text)
			}
		}
		return v, len(r.faults) == before
	}, sch, "mapping", true}
}

// named reads a mapping from ids to values, in the sequence of the file. set gives
// a value its id.
func named[V any](s shape[V], most int, set func(*V, Ref)) shape[[]*V] {
	sch := schema{
		"type": "object", "additionalProperties": s.schema,
		"propertyNames": id.schema, "maxProperties": most,
	}
	return shape[[]*V]{func(r *reader, n *yaml.Node) ([]*V, bool) {
		if n.Kind != yaml.MappingNode {
			r.fault(n, "must be a mapping from ids, not %s", kindOf(n))
			return nil, false
		}
		if len(n.Content)/2 > most {
			r.fault(n, "has %d entries; at most %d can be read", len(n.Content)/2, most)
			return nil, false
		}
		var list []*V
		ok := true
		r.pairs(n, func(k, value *yaml.Node) {
			name, fine := readID(r, k)
			ok = ok && fine
			r.at(k.Value, func() {
				v, fine := s.read(r, value)
				ok = ok && fine
				// Kept though faulty, so that references to it are not faults as well.
				set(&v, name)
				list = append(list, &v)
			})
		})
		return list, ok
	}, sch, "mapping from ids", true}
}

// orEmpty reads an empty value as an empty mapping, as people write "hull:" and
// nothing more.
func orEmpty[V any](s shape[V]) shape[V] {
	return shape[V]{func(r *reader, n *yaml.Node) (V, bool) {
		if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
			n = &yaml.Node{Kind: yaml.MappingNode, Line: n.Line, Column: n.Column}
		}
		return s.read(r, n)
	}, schema{"anyOf": []schema{{"type": "null"}, s.schema}}, s.says, s.partial}
}

// either reads a text by one shape and a mapping by another.
func either[V any](text, mapping shape[V]) shape[V] {
	return shape[V]{func(r *reader, n *yaml.Node) (V, bool) {
		if n.Kind == yaml.MappingNode {
			return mapping.read(r, n)
		}
		return text.read(r, n)
	}, schema{"anyOf": []schema{text.schema, mapping.schema}}, text.says + ", or a mapping", mapping.partial}
}

// mapped turns a value of one type into another.
func mapped[A, B any](s shape[A], to func(A) B) shape[B] {
	return shape[B]{func(r *reader, n *yaml.Node) (B, bool) {
		a, ok := s.read(r, n)
		return to(a), ok
	}, s.schema, s.says, s.partial}
}

func fieldNames[T any](fields []field[T]) []string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.name
	}
	return names
}
