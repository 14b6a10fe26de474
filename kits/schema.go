package kits

import (
	"encoding/json"
	"maps"
)

// schema is a piece of JSON Schema, draft 2020-12.
type schema map[string]any

func objectSchema[T any](fields []field[T], rules []rule) schema {
	properties := map[string]any{}
	var required []string
	for _, f := range fields {
		p := schema{"description": f.doc}
		maps.Copy(p, f.schema)
		properties[f.name] = p
		if f.required {
			required = append(required, f.name)
		}
	}
	s := schema{"type": "object", "properties": properties, "additionalProperties": false}
	if required != nil {
		s["required"] = required
	}
	var all []schema
	for _, r := range rules {
		all = append(all, r.schema)
	}
	if all != nil {
		s["allOf"] = all
	}
	return s
}

// Schema returns the JSON Schema (draft 2020-12) of a kit file. It accepts and
// rejects what the reader does, except what only the whole file can tell: names
// that refer to nothing, rings of joins, duplicate keys.
func Schema() []byte {
	s := schema{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"title":       "dryfit kit file",
		"description": "A model kit: its parts, how they are joined, its spaces, wires and tasks.",
	}
	maps.Copy(s, kitShape.schema)
	b, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic(err) // the schema holds only strings, numbers, maps and slices
	}
	return append(b, '\n')
}
