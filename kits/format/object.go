package format

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Field is one key of a mapping that is read into a T.
type Field[T any] struct {
	name     string
	doc      string
	says     string
	required bool
	read     func(r *reader, n *yaml.Node, into *T)
	schema   Schema
}

// Key describes a field: its name, the shape of its value, where the value goes,
// and what it means.
func Key[T, V any](name string, s Shape[V], at func(*T) *V, doc string) Field[T] {
	return Field[T]{name: name, doc: doc, says: s.says, schema: s.schema,
		read: func(r *reader, n *yaml.Node, into *T) {
			*at(into), _ = s.read(r, n) // a faulty value is zero, or its usable part
		}}
}

// Must makes a field required.
func (f Field[T]) Must() Field[T] {
	f.required = true
	return f
}

// Rule says which keys of a mapping go together.
type Rule struct {
	fault  func(has func(string) bool) string // empty when the rule holds
	schema Schema
}

// ExactlyOne requires exactly one of the keys.
func ExactlyOne(names ...string) Rule {
	return Rule{func(has func(string) bool) string {
		switch present(names, has) {
		case 0:
			return "needs " + strings.Join(names, " or ")
		case 1:
			return ""
		}
		return "can have only one of " + strings.Join(names, " and ")
	}, Schema{"oneOf": eachRequired(names)}}
}

// AtLeastOne requires one or more of the keys.
func AtLeastOne(names ...string) Rule {
	return Rule{func(has func(string) bool) string {
		if present(names, has) == 0 {
			return "needs " + strings.Join(names, " or ")
		}
		return ""
	}, Schema{"anyOf": eachRequired(names)}}
}

func eachRequired(names []string) []Schema {
	var list []Schema
	for _, n := range names {
		list = append(list, Schema{"required": []string{n}})
	}
	return list
}

// AtMostOne allows at most one of the keys.
func AtMostOne(names ...string) Rule {
	var pairs []Schema
	for i, a := range names {
		for _, b := range names[i+1:] {
			pairs = append(pairs, Schema{"required": []string{a, b}})
		}
	}
	return Rule{func(has func(string) bool) string {
		if present(names, has) > 1 {
			return "can have only one of " + strings.Join(names, ", ")
		}
		return ""
	}, Schema{"not": Schema{"anyOf": pairs}}}
}

// OnlyWith allows a key only together with another.
func OnlyWith(name, other string) Rule {
	return Rule{func(has func(string) bool) string {
		if has(name) && !has(other) {
			return fmt.Sprintf("%s needs %s", name, other)
		}
		return ""
	}, Schema{"dependentRequired": map[string]any{name: []string{other}}}}
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

// Object reads a mapping with known keys into a T. place, if not nil, is where the
// position of the mapping goes.
func Object[T any](place func(*T) *Pos, fields []Field[T], rules ...Rule) Shape[T] {
	names := fieldNames(fields)
	sch := objectSchema(fields, rules)
	return Shape[T]{func(r *reader, n *yaml.Node) (T, bool) {
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
			i := slices.IndexFunc(fields, func(f Field[T]) bool { return f.name == k.Value })
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

// Map reads a mapping from names to values, in the order of the file. set gives a value
// its name.
func Map[V any](key Shape[Ref], s Shape[V], most int, set func(*V, Ref)) Shape[[]*V] {
	sch := Schema{
		"type": "object", "additionalProperties": s.schema,
		"propertyNames": key.schema, "maxProperties": most,
	}
	from := "mapping from " + key.says + "s"
	return Shape[[]*V]{func(r *reader, n *yaml.Node) ([]*V, bool) {
		if n.Kind != yaml.MappingNode {
			r.fault(n, "must be a %s, not %s", from, kindOf(n))
			return nil, false
		}
		if len(n.Content)/2 > most {
			r.fault(n, "has %d entries; the maximum is %d", len(n.Content)/2, most)
			return nil, false
		}
		var list []*V
		ok := true
		r.pairs(n, func(k, value *yaml.Node) {
			name, fine := key.read(r, k)
			ok = ok && fine
			r.at(k.Value, func() {
				v, fine := s.read(r, value)
				ok = ok && fine
				// Kept despite faults, so that references to it do not become
				// faults too.
				set(&v, name)
				list = append(list, &v)
			})
		})
		return list, ok
	}, sch, from, true}
}

func fieldNames[T any](fields []Field[T]) []string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.name
	}
	return names
}
