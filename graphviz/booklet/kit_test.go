package booklet

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"dryfit/graphviz/document"
	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/picture"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/plan/explain"
	"dryfit/plan/plantest"
)

// makeKit words the booklet of a kit without meshes.
func makeKit(t testing.TB, text string) *Made {
	t.Helper()
	rep := plantest.Check(t, text)
	if rep.Sequence == nil {
		t.Fatal(rep.Findings)
	}
	made, err := Make(context.Background(), rep, Options{Language: words.Language{Tag: "en"}})
	if err != nil {
		t.Fatal(err)
	}
	return made
}

const smallKit = `
kit: Box
scale: "1:32"
revision: "1"
parts:
  box: {printed: filament}
  seat: {printed: resin, quantity: 2, paint: before-fit}
  lid: {printed: filament}
  catch-magnet: {bought: true, quantity: 3, size: [5, 5, 2]}
joins:
  - {fit: seat, to: box, with: ca}
  - {fit: catch-magnet, to: box, with: epoxy}
  - {fit: lid, to: box, with: loose}
spaces:
  inside: {closed-by: [lid], holds: [seat]}
service: [{reach: seat.1, by-opening: [lid]}]
`

func steps(m *Made) []document.Step {
	var list []document.Step
	for _, c := range m.Book.Chapters {
		for _, b := range c.Blocks {
			if s, ok := b.(document.Step); ok {
				list = append(list, s)
			}
		}
	}
	return list
}

func TestWithoutMeshesThereAreNoPictures(t *testing.T) {
	made := makeKit(t, smallKit)
	if len(made.Pictures) != 0 {
		t.Errorf("%d pictures", len(made.Pictures))
	}
	for _, s := range steps(made) {
		if s.Figure != nil {
			t.Errorf("step %d has a picture", s.Number)
		}
	}
	page := string(set(t, made.Book))
	if !strings.Contains(page, "there are no pictures") {
		t.Error("it does not say why there are no pictures")
	}
}

// TestNumbersAreAssigned: the main build counts, and the designer's own numbers win.
func TestNumbersAreAssigned(t *testing.T) {
	made := makeKit(t, strings.Replace(smallKit, "lid: {printed", "lid: {number: \"2\", printed", 1))
	got := map[string]string{}
	for _, p := range made.m.kit.Parts {
		got[p.ID] = made.m.numbers.Of(p)
	}
	if got["lid"] != "2" || got["box"] != "1" {
		t.Errorf("%v", got)
	}
	seen := map[string]bool{}
	for id, n := range got {
		if n == "" || seen[n] {
			t.Errorf("%s: number %q twice or empty", id, n)
		}
		seen[n] = true
	}
}

func TestStepsSayWhatTheyMust(t *testing.T) {
	made := makeKit(t, smallKit)
	find := func(title string) document.Step {
		for _, s := range steps(made) {
			if strings.Contains(s.Title, title) {
				return s
			}
		}
		t.Fatalf("no step %q", title)
		return document.Step{}
	}
	seat := find("seat")
	if len(seat.Needs) != 1 || seat.Needs[0].Count != 2 {
		t.Errorf("the seats: %+v", seat.Needs)
	}
	if text := fmt.Sprint(seat.Before, seat.Notes); !strings.Contains(text, "Here too: superglue.") || !strings.Contains(text, "by itself first") {
		t.Errorf("the seats: %s", text)
	}
	if lid := find("lid"); len(lid.Signs) != 1 || lid.Signs[0] != "DO NOT GLUE" || lid.LastCall != nil {
		t.Errorf("the lid opens again: %+v", lid)
	}
	magnet := find("magnet")
	if len(magnet.Before) == 0 || magnet.Before[0].Signal != "WARNING" || !magnet.Before[0].Alert {
		t.Errorf("the magnets: %+v", magnet.Before)
	}
	glued := makeKit(t, strings.Replace(strings.Replace(smallKit, "lid, to: box, with: loose", "lid, to: box, with: ca", 1), "service", "# service", 1))
	for _, s := range steps(glued) {
		if strings.Contains(s.Title, "lid") && (s.LastCall == nil || !strings.Contains(strings.Join(s.LastCall.Items, " "), "seat")) {
			t.Errorf("no last call before the lid is glued: %+v", s)
		}
	}
}

// TestRulesFail: each mistake in a finished booklet is found by the rule that is there
// for it.
func TestRulesFail(t *testing.T) {
	step := func(m *Made, change func(*document.Step)) {
		for _, c := range m.Book.Chapters {
			for i, b := range c.Blocks {
				if s, ok := b.(document.Step); ok {
					change(&s)
					c.Blocks[i] = s
				}
			}
		}
	}
	for rule, change := range map[string]func(*Made){
		"Each step adds":           func(m *Made) { step(m, func(s *document.Step) { s.Needs = nil }) },
		"Each piece comes":         func(m *Made) { step(m, func(s *document.Step) { s.Needs[0].Count++ }) },
		"Steps are numbered":       func(m *Made) { step(m, func(s *document.Step) { s.Number = 4 - s.Number }) },
		"A step has one main part": func(m *Made) { step(m, func(s *document.Step) { s.Needs = append(s.Needs, s.Needs[0]) }) },
		"What a step takes":        func(m *Made) { step(m, func(s *document.Step) { s.Needs[0].Name = "" }) },
		"What opens or moves":      func(m *Made) { step(m, func(s *document.Step) { s.Signs = nil }) },
		"Safety messages stand":    func(m *Made) { step(m, func(s *document.Step) { s.Before = nil }) },
		"Signal words": func(m *Made) {
			step(m, func(s *document.Step) {
				for i := range s.Before {
					s.Before[i].Alert = false
				}
			})
		},
		"A part has its number": func(m *Made) { step(m, func(s *document.Step) { s.Title = "Fit it." }) },
		"It says what is":       func(m *Made) { step(m, func(s *document.Step) { s.Notes = nil }) },
		"It states scale":       func(m *Made) { m.m.kit.Scale = "" },
		"Each page has":         func(m *Made) { m.Book.Footer = "" },
	} {
		made := makeKit(t, smallKit)
		found := func() Result {
			for _, v := range made.Check() {
				if strings.HasPrefix(v.Rule, rule) {
					return v.Result
				}
			}
			t.Fatalf("no rule %q", rule)
			return ""
		}
		if r := found(); r != Holds {
			t.Errorf("%s: %s before the mistake", rule, r)
		}
		change(made)
		if r := found(); r != Fails {
			t.Errorf("%s: %s after the mistake", rule, r)
		}
	}
}

// A magnet may wait for soldering, and for nothing else; pieces of a pair are done next to
// each other, unless one is fitted to the other or each is in a sub-build of its own.
func TestRulesOfOrder(t *testing.T) {
	const magnet, pair = "A screw, pin or magnet", "Mirrored pieces"
	const parts = "kit: Box\nparts:\n  a: {}\n  b: {}\n  disc: {bought: true, name: Magnet}\n  lamp: {bought: true}\n  c: {}\n  d: {}\n  e: {}\n  f: {}\n" +
		"  left: {pair: right}\n  right: {}\njoins:\n  - {fit: b, to: a, with: ca}\n"
	late := func(join string) string {
		return parts + `  - {fit: c, to: b, with: ca}
  - {fit: d, to: c, with: ca}
  - {fit: e, to: d, with: ca, after: [c]}
  - {fit: lamp, to: e, with: ca}
` + join
	}
	const disc, both = "  - {fit: disc, to: b, with: epoxy, after: [AFTER]}\n", "  - {fit: f, to: a, with: ca, after: [disc]}\n  - {fit: left, to: f, with: ca}\n  - {fit: right, to: left, with: ca}\n"
	wire := "wires: [{wire: feed, from: e, to: lamp}]\n"
	apart := "  - {fit: f, to: a, with: ca}\n  - {fit: left, to: a, with: ca, before: [b]}\n  - {fit: right, to: a, with: ca, after: [f, lamp, disc]}\n"
	for _, c := range []struct {
		name, rule, text string
		want             Result
	}{
		{"magnet long after", magnet, late(strings.Replace(disc, "AFTER", "lamp", 1) + both), Fails},
		{"magnet after soldering", magnet, late(strings.Replace(disc, "AFTER", "feed", 1)+both) + wire, Holds},
		{"pair apart", pair, late(strings.Replace(disc, "AFTER", "b", 1) + apart), Fails},
		{"halves", pair, late(strings.Replace(disc, "AFTER", "b", 1) + strings.Replace(strings.Replace(apart, "before: [b]", "before: [b, f]", 1), "right, to: a", "right, to: left", 1)), Holds},
	} {
		for _, v := range makeKit(t, c.text).Check() {
			if strings.HasPrefix(v.Rule, c.rule) && v.Result != c.want {
				t.Errorf("%s: %s, %v", c.name, v.Result, v.Found)
			}
		}
	}
}

// set is a booklet as HTML.
func set(t *testing.T, d *document.Document) []byte {
	t.Helper()
	page, err := d.HTML()
	if err != nil {
		t.Fatal(err)
	}
	return page
}

func setPDF(t *testing.T, d *document.Document) []byte {
	t.Helper()
	data, err := d.PDF()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// kitTexts must do nothing but appear as text.
var kitTexts = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `=HYPERLINK("x")`, "a\u202eb\u2066c", strings.Repeat("Donaudampfschiff", 200),
	`{{.}} {name} %s %[1]s %d`, `]]> <!-- --> &amp; &#0;`, "𝔘𝔫𝔦 😀 \ufffe", `\u003cb\u003e`, `javascript:alert(1)`,
}

func TestHostileKit(t *testing.T) {
	for _, text := range kitTexts {
		q := fmt.Sprintf("%q", text)
		kit := fmt.Sprintf(`
kit: %[1]s
about: %[1]s
revision: %[1]s
for: %[1]s
contact: %[1]s
licence: %[1]s
tools: %[1]s
scale: "1:32"
parts:
  box: {name: %[1]s, number: %[1]s, printed: filament, note: %[1]s, paint: outside}
  lamp: {name: %[1]s, bought: true, size: [3, 3, 3], note: %[1]s}
  jig: {name: %[1]s, class: tooling, note: %[1]s}
joins: [{fit: lamp, to: box, with: ca, note: %[1]s}]
wires: [{wire: lead, from: box, to: lamp, note: %[1]s}]
tasks: [{do: %[1]s, note: %[1]s, coat: outside}]
`, q)
		k, err := kits.Read("kit.yaml", []byte(kit))
		if err != nil {
			continue // refused with a message, which does nothing either
		}
		rep, err := explain.Check(k)
		if err != nil || rep.Sequence == nil {
			t.Fatalf("%.40q: %v %v", text, err, rep)
		}
		for _, tag := range words.Languages() {
			made, err := Make(context.Background(), rep, Options{Language: words.Language{Tag: tag}})
			if err != nil {
				t.Fatal(err)
			}
			texts, faults := documenttest.CheckPage(set(t, made.Book))
			if len(faults) > 0 {
				t.Errorf("%.40q: %s", text, strings.Join(faults, "\n"))
			}
			shown := false
			for _, s := range texts {
				shown = shown || strings.Contains(s, picture.Plain(text))
			}
			if !shown {
				t.Errorf("%.40q does not appear", text)
			}
			setPDF(t, made.Book)
			made.Check()
		}
	}
}
