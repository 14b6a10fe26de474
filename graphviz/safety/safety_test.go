package safety_test

import (
	"strings"
	"testing"

	"dryfit/graphviz/safety"
	"dryfit/graphviz/words"
	"dryfit/kits/kitstest"
	"dryfit/plan"
)

// everything asks for all that can hurt.
const everything = `kit: Everything
parts:
  hull: {printed: resin, size: [20, 20, 20]}
  frame: {printed: filament, material: abs}
  window: {paint: masked}
  magnet: {bought: true}
  cell: {bought: true, name: Lithium button cell}
  shot: {bought: true, name: Lead shot}
  rod: {made: true, name: Carbon rod}
joins:
  - {fit: frame, to: hull, with: epoxy}
  - {fit: window, to: hull, with: ca}
  - {fit: magnet, to: hull, with: uv-resin}
  - {fit: cell, to: hull, with: cement}
  - {fit: shot, to: hull, with: ca}
  - {fit: rod, to: hull, with: ca}
wires: [{wire: feed, from: cell, to: frame}]
tasks: [{do: Sand and spray}]
`

// Each hazard has words in each language, at the front and before an action, and no two
// are the same.
func TestMessages(t *testing.T) {
	list := plan.Hazards(kitstest.Read(t, everything))
	if len(list) != 21 {
		t.Errorf("%d hazards: %v", len(list), list)
	}
	for _, tag := range words.Languages() {
		l, err := words.In(tag)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, h := range list {
			for _, short := range []bool{false, true} {
				m := safety.Message(l, h, short)
				if m.Text == "" || seen[m.Text] || m.Short != short {
					t.Errorf("%s in %s, short %v: %+v", h.ID, tag, short, m)
				}
				if m.Alert != (h.Signal != plan.Notice) {
					t.Errorf("%s: the triangle is for what can hurt someone", h.ID)
				}
				seen[m.Text] = true
			}
		}
	}
}

// All messages stand behind the one that defers to data sheets, rules and licences.
func TestDefers(t *testing.T) {
	texts := safety.Texts(words.English, nil)
	if len(texts) != 1 {
		t.Fatalf("%q", texts)
	}
	for _, w := range []string{"data sheets", "local rules", "licensed", "not complete"} {
		if !strings.Contains(texts[0], w) {
			t.Errorf("%q does not say %q", texts[0], w)
		}
	}
}

// What must be done at once is said in so many words.
func TestMedicalHelp(t *testing.T) {
	for _, h := range plan.Only(plan.Hazards(kitstest.Read(t, everything)), "magnets", "button-cells") {
		if m := safety.Message(words.English, h, false); !strings.Contains(m.Text, "if one is swallowed get medical help at once") && !strings.Contains(m.Text, "If one is swallowed, get medical help at once") {
			t.Errorf("%s: %s", h.ID, m.Text)
		}
	}
}
