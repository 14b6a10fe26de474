package format

import (
	"encoding/json"
	"maps"
)

// Schema is a piece of JSON Schema, draft 2020-12.
type Schema map[string]any

func objectSchema[T any](fields []Field[T], rules []Rule) Schema {
	properties := map[string]any{}
	var required []string
	for _, f := range fields {
		p := Schema{"description": f.doc}
		maps.Copy(p, f.schema)
		properties[f.name] = p
		if f.required {
			required = append(required, f.name)
		}
	}
	s := Schema{"type": "object", "properties": properties, "additionalProperties": false}
	if required != nil {
		s["required"] = required
	}
	var all []Schema
	for _, r := range rules {
		all = append(all, r.schema)
	}
	if all != nil {
		s["allOf"] = all
	}
	return s
}

// JSON writes the schema of a format. It accepts and rejects what the reader
// does, except for checks that need the whole file: unresolved names, duplicate
// keys.
func (s Shape[V]) JSON(title, description string) []byte {
	whole := Schema{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"title":       title,
		"description": description,
	}
	maps.Copy(whole, s.schema)
	b, err := json.MarshalIndent(whole, "", "  ")
	if err != nil {
		panic(err) // the schema holds only strings, numbers, maps and slices
	}
	return append(b, '\n')
}
