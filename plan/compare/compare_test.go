package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/compare"
	"dryfit/plan/plantest"
)

const boat = `kit: Boat 1
scale: "1:32"
fixings: {slow: {kind: glue, cure: 24h}}
parts:
  hull: {number: H1, printed: resin, size: [100, 30, 20]}
  deck: {number: H2, printed: resin, size: [100, 30, 2]}
  seat: {number: C1, printed: resin, quantity: 2, size: [10, 10, 10], paint: before-fit}
  lamp: {number: L1, bought: true}
  mast: {number: M1, printed: filament}
joins:
  - {fit: seat, to: hull, with: ca}
  - {fit: lamp, to: hull, with: ca}
  - {fit: deck, to: hull, with: slow, step: closing}
  - {fit: mast, to: deck, with: ca}
spaces:
  cabin: {closed-by: [deck, {opening: [5, 5], name: port}], holds: [seat]}
wires:
  - {wire: lead, from: lamp, to: seat.1, across: 1}
tasks:
  - {do: Test, after: lead, before: closing}
  - {do: Paint, step: coat, cure: 2h}
service:
  - {reach: lamp}
`

func side(t *testing.T, text string, meshes map[string][]mesh.Triangle) *plan.Project {
	t.Helper()
	rep := plantest.Check(t, text)
	if meshes != nil {
		rep.Meshes = &mesh.Collection{}
		for _, p := range rep.Kit.Pieces {
			m, err := mesh.FromTriangles(p.ID, meshes[p.ID])
			if err != nil {
				t.Fatal(err)
			}
			rep.Meshes.IDs, rep.Meshes.Pieces = append(rep.Meshes.IDs, p.ID), append(rep.Meshes.Pieces, m)
		}
	}
	return rep
}

// told is a comparison in short; prints that stay good are left out.
func told(c *compare.Comparison) string {
	var b strings.Builder
	for _, r := range c.Renamed {
		fmt.Fprintf(&b, "renamed %s %s by %s\n", r.Old, r.New, r.By)
	}
	for _, ch := range c.Changes {
		fmt.Fprintf(&b, "%s %s %s\n", ch.Kind, ch.Name, ch.What)
		for _, f := range ch.Fields {
			fmt.Fprintf(&b, "  %s: %q, %q\n", f.Name, f.Old, f.New)
		}
	}
	for _, s := range c.Steps.Added {
		fmt.Fprintf(&b, "step %d new: %s\n", s.New, s.Text)
	}
	for _, s := range c.Steps.Gone {
		fmt.Fprintf(&b, "step %d gone: %s\n", s.Old, s.Text)
	}
	for _, s := range c.Steps.Moved {
		fmt.Fprintf(&b, "step %d to %d: %s\n", s.Old, s.New, s.Text)
	}
	for _, p := range c.Prints {
		if p.Verdict != compare.Good && p.Verdict != compare.Untold {
			fmt.Fprintf(&b, "print %s %s %s\n", p.Piece, p.Verdict, p.Why)
		}
	}
	for _, f := range c.Findings.New {
		fmt.Fprintf(&b, "new %s %s\n", f.Kind, f.Piece)
	}
	for _, f := range c.Findings.Gone {
		fmt.Fprintf(&b, "gone %s %s\n", f.Kind, f.Piece)
	}
	return b.String()
}

func compared(t *testing.T, before, after *plan.Project) *compare.Comparison {
	t.Helper()
	c, err := compare.Compare(before, after)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Each edit of a kit file is reported, and nothing else.
func TestChanges(t *testing.T) {
	for _, c := range []struct {
		edit []string
		want string
	}{
		{nil, ""},
		{[]string{"kit: Boat 1", "kit: Boat 2"}, "kit  changed\n  name: \"Boat 1\", \"Boat 2\"\n"},
		{[]string{"cure: 24h", "cure: 90m"}, "fixing slow changed\n  cure: \"24h\", \"1h 30m\"\n"},
		// Written otherwise, but the same.
		{[]string{"to: hull, with: slow", "with: slow, takes: 0m, to: [hull]", "[100, 30, 2]", "[100.0, 30, 2]"}, ""},
		{[]string{"{number: L1, bought: true}", "{number: L1, bought: true, note: warm white}"}, "part lamp changed\n  note: \"\", \"warm white\"\n"},
		{[]string{"quantity: 2", "quantity: 3"}, "part seat changed\n  quantity: \"2\", \"3\"\nprint seat.3 new \n"},
		{[]string{"[10, 10, 10]", "[10, 12, 10]"}, "part seat changed\n  size: \"10 x 10 x 10 mm\", \"10 x 12 x 10 mm\"\n" +
			"print seat.1 redo its size was 10 x 10 x 10 mm and is now 10 x 12 x 10 mm\nprint seat.2 redo its size was 10 x 10 x 10 mm and is now 10 x 12 x 10 mm\n"},
		{[]string{"M1, printed: filament", "M1, printed: resin"}, "part mast changed\n  printed: \"filament\", \"resin\"\nprint mast redo it was printed in filament and is now in resin\n"},
		{[]string{"to: hull, with: slow", "to: hull, with: ca, after: lamp"}, "join fit deck changed\n  with: \"slow\", \"ca\"\n  after: \"\", \"lamp\"\n"},
		// The fixing says what opens, not the join.
		{[]string{"{fit: lamp, to: hull, with: ca}", "{fit: lamp, to: hull, with: magnet}"}, "join fit lamp changed\n  with: \"ca\", \"magnet\"\n  opens: \"no\", \"yes\"\nstep 7 to 2: Paint\n"},
		{[]string{"{fit: lamp, to: hull, with: ca}", "{fit: lamp, to: hull, with: ca, planned: 90h}"}, "join fit lamp changed\n  planned: \"\", \"90h\"\n"},
		{[]string{"cure: 2h", "cure: 10s"}, "task Paint changed\n  cure: \"2h\", \"10s\"\n"},
		{[]string{"name: port}], holds: [seat]", "name: port}], holds: [seat.1]"}, "space cabin changed\n  holds: \"seat\", \"seat.1\"\n"},
		{[]string{"[5, 5]", "[5, 6]"}, "space cabin changed\n  closed-by: \"deck, nothing as port over 5 mm x 5 mm\", \"deck, nothing as port over 5 mm x 6 mm\"\n"},
		{[]string{"across: 1", "across: 2"}, "wire lead changed\n  across: \"1 mm\", \"2 mm\"\n"},
		// A task with a name is known again by it; the step is the same.
		{[]string{"do: Paint", "do: Paint twice"}, "task Paint twice changed\n  task: \"Paint\", \"Paint twice\"\n"},
		{[]string{"  - {do: Test, after: lead, before: closing}\n", ""}, "task Test gone\nstep 4 gone: Test\n"},
		{[]string{"- {reach: lamp}", "- {reach: lamp}\n  - {reach: mast}"}, "service reach mast added\nnew unchecked mast\n"},
		// A part with the number of one that is gone is that one, wherever it is named.
		{[]string{"  lamp: {", "  light: {", "fit: lamp", "fit: light", "from: lamp", "from: light", "reach: lamp", "reach: light"}, "renamed lamp light by number\n"},
		{[]string{"  mast: {number: M1, printed: filament}\n", "", "  - {fit: mast, to: deck, with: ca}\n", ""}, "part mast gone\njoin fit mast gone\nstep 6 gone: Fit mast M1 to deck H2\nprint mast unneeded \n"},
	} {
		got := told(compared(t, side(t, boat, nil), side(t, kitstest.Replace(t, boat, c.edit...), nil)))
		if got != c.want {
			t.Errorf("%q\ngot\n%s\nwant\n%s", c.edit, got, c.want)
		}
	}
}

// What a kit says of ballast, lights and magnets is compared as well.
func TestHardware(t *testing.T) {
	hardware := boat + `balance: {along: x, support: 40, ballast: seat, inside: [9, 9, 9]}
lights: {supply: deck, volts: 9, branches: [{lamps: lamp, colour: red, current: 5, wires: lead}]}
magnets: [{magnet: seat, north: [0, 0, 1]}]
`
	now := hardware
	for _, e := range [][2]string{{"support: 40", "support: 45"}, {"[9, 9, 9]", "[9, 9, 8], fill: 15%"}, {"current: 5", "current: 4, resistor: 1800"}, {"volts: 9", "volts: 12"}, {"north: [0, 0, 1]", "north: [0, 0, -1], pocket: [5.2, 2.2]"}, {"{number: M1", "{mass: 2, number: M1"}} {
		now = kitstest.Replace(t, now, e[0], e[1])
	}
	got := told(compared(t, side(t, hardware, nil), side(t, now, nil)))
	for _, want := range []string{`support: "40 mm", "45 mm"`, `inside: "9 x 9 x 9 mm", "9 x 9 x 8 mm"`, `fill: "", "15%"`, `current: "5 mA", "4 mA"`, `resistor: "", "1800 ohm"`,
		`"9 V, 9 V fresh, 9 V flat", "12 V, 12 V fresh, 12 V flat"`, `north: "[0, 0, 1]", "[0, 0, -1]"`, `pocket: "", "5.2 mm across, 2.2 mm deep"`, `mass: "", "2 g"`} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not told:\n%s", want, got)
		}
	}
	if got := told(compared(t, side(t, hardware, nil), side(t, hardware, nil))); strings.Contains(got, "support") || strings.Contains(got, "magnets") {
		t.Errorf("nothing changed, yet\n%s", got)
	}
}

// Of a step that comes earlier only that step is reported, even if many numbers change.
func TestStepsMoved(t *testing.T) {
	before := side(t, boat, nil)
	after := side(t, kitstest.Replace(t, boat, "{do: Paint, step: coat, cure: 2h}", "{do: Paint, step: coat, cure: 2h, before: [seat, lamp]}"), nil)
	c := compared(t, before, after)
	if len(c.Steps.Moved) != 1 || c.Steps.Moved[0].Text != "Paint" || c.Steps.Moved[0].New >= c.Steps.Moved[0].Old {
		t.Errorf("got %+v", c.Steps)
	}
}

// Findings are reported as new and gone, under the new ids of their parts.
func TestFindings(t *testing.T) {
	shut := kitstest.Replace(t, boat, "{fit: seat, to: hull, with: ca}", "{fit: seat, to: hull, with: ca, after: closing}", "closed-by: [deck, {opening: [5, 5], name: port}]", "closed-by: [deck]")
	good, bad := side(t, boat, nil), side(t, shut, nil)
	c := compared(t, good, bad)
	if c.OK() || !strings.Contains(told(c), "new cycle") || c.Steps.Known {
		t.Errorf("got %s", told(c))
	}
	if c = compared(t, bad, good); !c.OK() || !strings.Contains(told(c), "gone cycle") {
		t.Errorf("got %s", told(c))
	}
	renamed := side(t, strings.ReplaceAll(shut, "seat", "bench"), nil)
	if c = compared(t, bad, renamed); !c.OK() || len(c.Findings.New)+len(c.Findings.Gone) > 0 {
		t.Errorf("got %s", told(c))
	}
}

// With meshes, prints are judged by their content, and a part is known again by it.
func TestPrints(t *testing.T) {
	box := func(x, side float64) []mesh.Triangle {
		return meshtest.Box([3]float64{x, 0, 0}, [3]float64{x + side, 10, 10})
	}
	was := map[string][]mesh.Triangle{"hull": box(0, 100), "deck": box(200, 100), "seat.1": box(300, 10), "seat.2": box(320, 10), "mast": box(400, 5)}
	is := map[string][]mesh.Triangle{"hull": box(0, 100), "deck": box(200, 99), "seat.1": box(301, 10), "seat.2": box(320, 10), "pole": box(400, 5)}
	text := kitstest.Replace(t, boat, "  mast: {number: M1,", "  pole: {name: Mast,", "fit: mast", "fit: pole", "quantity: 2", "quantity: 3")
	got := told(compared(t, side(t, boat, was), side(t, text, is)))
	want := `renamed mast pole by mesh
part seat changed
  quantity: "2", "3"
part pole changed
  name: "", "Mast"
  number: "M1", ""
print deck redo its size was 100.00 x 10.00 x 10.00 mm and is now 99.00 x 10.00 x 10.00 mm
print seat.1 moved moved by [1, 0, 0] mm
print seat.3 new 
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A part of another material is printed anew; one that only says what it was made of
// all along is not.
func TestPrintsOfAnotherMaterial(t *testing.T) {
	plain := kitstest.Replace(t, boat, "mast: {number: M1, printed: filament", "mast: {number: M1, printed: filament, material: pla")
	tough := kitstest.Replace(t, boat, "mast: {number: M1, printed: filament", "mast: {number: M1, printed: filament, material: petg")
	if got := told(compared(t, side(t, boat, nil), side(t, plain, nil))); strings.Contains(got, "material") || strings.Contains(got, "redo") {
		t.Errorf("the material that it was of is told as a change:\n%s", got)
	}
	got := told(compared(t, side(t, boat, nil), side(t, tough, nil)))
	if !strings.Contains(got, `material: "", "petg"`) || !strings.Contains(got, "print mast redo it was printed in pla and is now in petg") {
		t.Errorf("another material is not told:\n%s", got)
	}
}

// Printers and materials are compared, with the defaults of what is not written.
func TestPrintersAndMaterials(t *testing.T) {
	const before = boat + `materials: {grey: {process: resin, density: 1.1, package: 500, price: 20 EUR}}
printers: {one: {process: resin, volume: [100, 60, 100]}, two: {process: filament, volume: [200, 200, 200]}}
`
	after := kitstest.Replace(t, before, "price: 20 EUR", "price: 25 EUR", "volume: [100, 60, 100]", "volume: [100, 60, 120], exposure: 2s, edge: 4, border: 1, longest: 9h, hours: [7h, 22h], support: {angle: 50, fill: 8%, raise: 6}", "two: {", "three: {", "C1, printed: resin", "C1, colour: Red, printed: resin")
	c, err := compare.Compare(side(t, before, nil), side(t, after, nil))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, ch := range c.Changes {
		text := fmt.Sprintf("%s %s %s", ch.Kind, ch.Name, ch.What)
		for _, f := range ch.Fields {
			text += fmt.Sprintf("; %s %q to %q", f.Name, f.Old, f.New)
		}
		got = append(got, text)
	}
	want := `part seat changed; colour "" to "Red"
material grey changed; price "20.00 EUR" to "25.00 EUR"
printer one changed; volume "100 x 60 x 100 mm" to "100 x 60 x 120 mm"; edge "2 mm" to "4 mm"; border "0 mm" to "1 mm"; longest "" to "9h"; hours "" to "7h to 22h"; exposure "3s" to "2s"; support angle "45 degrees" to "50 degrees"; support fill "5%" to "8%"; support raise "5 mm" to "6 mm"
printer three added
printer two gone`
	if strings.Join(got, "\n") != want {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
}
