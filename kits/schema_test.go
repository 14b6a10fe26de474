package kits

import (
	"bytes"
	"encoding/json"
	"math/rand"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"dryfit/kits/demo"
	"dryfit/kits/format"
)

func compiledSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("kit.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("kit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON is a YAML text as an editor that checks it against the schema sees it.
func asJSON(t *testing.T, text []byte) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// shapeOK reports whether the reader accepts the shape of a file, whatever its
// names refer to: what the schema can judge.
func shapeOK(text []byte) bool {
	root, faults := format.Tree("kit.yaml", "kit file", text)
	if root == nil || faults != nil {
		return false
	}
	_, faults = format.Decode("kit.yaml", root, kitShape)
	return faults == nil
}

func TestSchemaAcceptsDemonstrationKit(t *testing.T) {
	if err := compiledSchema(t).Validate(asJSON(t, demo.Kit)); err != nil {
		t.Error(err)
	}
}

// mutations change the small kit in one place; the schema and the reader must agree
// on each, and on random pairs of them.
var mutations = [][2]string{
	{"kit: Example", "kit: 5"}, {"kit: Example", "kit: ''"}, {"kit: Example\n", ""}, {"kit: Example", "kit: Example\nabout: two words"},
	{`scale: "1:32"`, `scale: "32"`}, {`scale: "1:32"`, `scale: "1:32.5"`}, {"scale:", "units: cm\nscale:"}, {"scale:", "units: km\nscale:"},
	{"scale:", "clearance: 0\nscale:"}, {"scale:", "clearance: -1\nscale:"}, {"scale:", "meshes: parts/a\nscale:"}, {"scale:", "meshes: ../a\nscale:"},
	{"scale:", "meshes: a/nul.x\nscale:"}, {"scale:", "meshes: /a\nscale:"}, {"scale:", "fixings: {tape: {kind: loose, opens: true}}\nscale:"},
	{"scale:", "fixings: {tape: {kind: tape}}\nscale:"}, {"scale:", "fixings: {tape: {handle: 5m}}\nscale:"}, {"scale:", "fixings: []\nscale:"},
	{"printed: filament", "printed: paper"}, {"printed: filament", "bought: true"}, {"printed: filament", "bought: true, made: true"},
	{"printed: filament", "bought: 1"}, {"lid: {printed: filament}", "lid:"}, {"lid: {printed: filament}", "lid: []"}, {"lid: {printed", "LID: {printed"},
	{"jig: {class", "aux: {class"}, {"quantity: 2", "quantity: 0"}, {"quantity: 2", "quantity: 2.0"}, {"quantity: 2", "quantity: 2.5"}, {"quantity: 2", "quantity: '2'"},
	{"size: [14, 12, 22]", "size: [14, 12]"}, {"size: [14, 12, 22]", "size: [14, 12, 0]"}, {"size: [14, 12, 22]", "size: 14"}, {"size: [14, 12, 22]", "paint: masked"},
	{"size: [14, 12, 22]", "paint: red"}, {"size: [14, 12, 22]", "note: \"a\\nb\""}, {"size: [14, 12, 22]", "name: \"a\\nb\""}, {"size: [14, 12, 22]", "pair: seat.2"},
	{"with: ca", "with: [ca]"}, {"with: ca", "toward: [0, 0, 1]"}, {"with: ca", "toward: [0, 0, 0]"}, {"with: ca", "toward: [0, 1]"}, {"with: ca", "takes: 5m"},
	{"with: ca", "takes: 5"}, {"with: ca", "takes: 1h 5m"}, {"with: ca", "takes: 5 minutes"}, {"with: ca", "bench: true, size: [1, 2, 3]"}, {"with: ca", "opens: false"},
	{"with: ca", "step: First"}, {"with: ca", "after: closing"}, {"with: ca", "after: []"}, {"with: ca", "before: [closing, coat]"},
	{"fit: lid, to: [hull-left, hull-right]", "fit: lid"}, {"fit: lid, to: [hull-left, hull-right]", "to: lid"}, {"fit: lid, to: [hull-left, hull-right]", "close: [lid]"},
	{"fit: lid, to: [hull-left, hull-right]", "close: [lid, hull-left]"}, {"fit: lid, to: [hull-left, hull-right]", "close: [lid, hull-left], bench: true"},
	{"fit: lid, to: [hull-left, hull-right]", "fit: lid, to: hull-left, close: [lid, hull-left]"}, {"fit: lid, to: [hull-left, hull-right]", "fit: [lid], to: hull-left"},
	{"closed-by: [hull-right,", "closed-by: [{piece: hull-right, facing: z},"}, {"closed-by: [hull-right,", "closed-by: [{name: x},"}, {"closed-by: [hull-right,", "closed-by: [5,"},
	{"facing: z", "facing: w"}, {"opening: [20, 30]", "opening: [20]"}, {"holds: [seat]", "holds: []"}, {"holds: [seat]", "holds: seat"}, {"holds: [seat]", "inside: x, holds: [1]"},
	{"from: seat.1", "from: seat.0"}, {"from: seat.1, ", ""}, {"across: 2", "across: 2, hole: 3, bare: true"}, {"across: 2", "across: 0"}, {"across: 2", "step: x"}, {"runs-in: [cabin]", "runs-in: []"},
	{"do: Paint, ", ""}, {"coat: outside", "coat: inside"}, {"cure: 1d", "cure: 1w"}, {"reach: seat.2, ", ""}, {"by-opening: [lid, port]", "by-opening: lid"},
	{"any: {process: resin, volume: [100, 60, 150]}", "any: []"}, {"any: {process: resin, volume: [100, 60, 150]}", "Any: {}"}, {"any: {process: resin, volume: [100, 60, 150]}\n", "{}\n"},
	{"process: resin, volume", "volume"}, {"process: resin", "process: laser"}, {", volume: [100, 60, 150]", ""}, {"[100, 60, 150]", "[100, 60]"}, {"[100, 60, 150]", "[100, 60, 150], layer: 0"},
	{"[100, 60, 150]", "[100, 60, 150], layer: 0.05, margin: 0, count: 3, change: 20m, exposure: 3s, motion: 6s, base-layers: 0, base-exposure: 30s"},
	{"[100, 60, 150]", "[100, 60, 150], count: 101"}, {"[100, 60, 150]", "[100, 60, 150], base-layers: -1"}, {"[100, 60, 150]", "[100, 60, 150], exposure: 2.5"},
	{"process: resin", "process: filament, line: 0.4, flow: 8, overhead: [1.3, 1.6]"}, {"process: resin", "process: filament, overhead: 1.3"}, {"process: resin", "process: filament, flow: 0"},
	{"printers:\n", "materials: {grey: {process: resin, density: 1.12}, steel: {density: 7.85}}\nprinters:\n"}, {"printers:\n", "materials: {grey: {process: resin}}\nprinters:\n"},
	{"printers:\n", "materials: {grey: {density: -1}}\nprinters:\n"}, {"printers:\n", "materials: {grey: {density: 1150}}\nprinters:\n"}, {"printed: filament", "printed: filament, material: petg"}, {"printed: filament", "material: [petg]"},
	{"printers:\n", "materials: {grey: {density: 1.1, package: 500, price: 24.90 EUR}}\nprinters:\n"}, {"printers:\n", "materials: {grey: {density: 1.1, price: 24.90 EUR}}\nprinters:\n"},
	{"printers:\n", "materials: {grey: {density: 1.1, package: 500, price: 24.90}}\nprinters:\n"}, {"printers:\n", "materials: {grey: {density: 1.1, package: 0}}\nprinters:\n"},
	{"printed: filament", "printed: filament, colour: Sea grey"}, {"printed: filament", "printed: filament, colour: [1]"},
	{"printed: filament", "printed: filament, mass: 4.5, fill: 15%"}, {"printed: filament", "fill: 15"}, {"printed: filament", "fill: 101%"}, {"printed: filament", "mass: 0"},
	{"printers:\n", "balance: {along: x, support: -5, margin: 0}\nprinters:\n"}, {"printers:\n", "balance: {along: x}\nprinters:\n"}, {"printers:\n", "balance: {along: w, support: 5}\nprinters:\n"},
	{"printers:\n", "balance: {along: x, support: 5, ballast: lid, at: -3, pack: 6.8, room: 4, fill: 20%, weighed: {mass: 4, at: 5}}\nprinters:\n"},
	{"printers:\n", "balance: {along: x, support: 5, ballast: lid, room: 4, inside: [1, 2, 3]}\nprinters:\n"}, {"printers:\n", "balance: {along: x, support: 5, inside: [1, 2, 3]}\nprinters:\n"},
	{"printers:\n", "balance: {along: x, support: 5, weighed: {mass: 4}}\nprinters:\n"},
	{"printers:\n", "lights: {volts: 9, branches: [{lamps: lid, colour: red, current: 5}]}\nprinters:\n"}, {"printers:\n", "lights: {volts: 9, branches: []}\nprinters:\n"},
	{"printers:\n", "lights: {supply: lid, volts: 9, fresh: 9.6, flat: 6, capacity: 500, gauge: 30, cover: 0.5, branches: [{lamps: [seat.1, seat.2], forward: 3, current: 5, resistor: 1500, wires: lead, length: 30}]}\nprinters:\n"},
	{"printers:\n", "lights: {volts: 9, branches: [{lamps: lid, current: 5}]}\nprinters:\n"}, {"printers:\n", "lights: {volts: 230, branches: [{lamps: lid, colour: red, current: 5}]}\nprinters:\n"},
	{"printers:\n", "lights: {volts: 9, gauge: 41, branches: [{lamps: lid, colour: red, current: 5}]}\nprinters:\n"}, {"printers:\n", "lights: {volts: 9, branches: [{lamps: lid, colour: pink, current: 5}]}\nprinters:\n"},
	{"printers:\n", "magnets: [{magnet: seat, north: [0, 0, 1], mates: lid, pocket: [5.2, 2.2]}]\nprinters:\n"}, {"printers:\n", "magnets: [{magnet: seat}]\nprinters:\n"},
	{"printers:\n", "magnets: [{magnet: seat, north: [0, 0, 0]}]\nprinters:\n"}, {"printers:\n", "magnets: [{magnet: seat, north: [0, 0, 1], pocket: 5}]\nprinters:\n"},
	{"printers:\n", "extra: 1\nprinters:\n"}, {"service:\n", "service: {}\nprinters2:\n"},
}

func TestSchemaAgreesWithReader(t *testing.T) {
	s := compiledSchema(t)
	agree := func(text string) (accepted bool) {
		reader, schema := shapeOK([]byte(text)), s.Validate(asJSON(t, []byte(text))) == nil
		if reader != schema {
			t.Errorf("the reader says %v, the schema %v:\n%s", reader, schema, text)
		}
		return reader
	}
	if !agree(base) {
		t.Error("the small kit is not accepted")
	}
	yes, no := 0, 0
	for _, m := range mutations {
		text := strings.Replace(base, m[0], m[1], 1)
		if text == base {
			t.Fatalf("%q is not in the small kit", m[0])
		}
		if agree(text) {
			yes++
		} else {
			no++
		}
	}
	rng := rand.New(rand.NewSource(1))
	for range 2000 {
		text := base
		for range 2 + rng.Intn(2) {
			m := mutations[rng.Intn(len(mutations))]
			text = strings.Replace(text, m[0], m[1], 1)
		}
		var v any
		if yaml.Unmarshal([]byte(text), &v) == nil {
			agree(text)
		}
	}
	if yes < 15 || no < 30 {
		t.Errorf("%d mutations are accepted and %d rejected; too few of one kind to mean much", yes, no)
	}
}

// Every key of the format stands in the reference with a meaning.
func TestReferenceIsWhole(t *testing.T) {
	ref := Reference()
	var whole any
	if err := json.Unmarshal(Schema(), &whole); err != nil {
		t.Fatal(err)
	}
	keys := 0
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, c := range v {
				walk(c)
			}
		case map[string]any:
			if properties, ok := v["properties"].(map[string]any); ok {
				for key := range properties {
					keys++
					if !strings.Contains(ref, "| `"+key+"`") {
						t.Errorf("%s is missing", key)
					}
				}
			}
			for _, c := range v {
				walk(c)
			}
		}
	}
	walk(whole)
	if keys < 100 {
		t.Errorf("%d keys in the schema", keys)
	}
	if strings.Contains(ref, "|  |") {
		t.Error("a key has no meaning or no value")
	}
}
