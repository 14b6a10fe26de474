package bill

import (
	"strings"
	"testing"

	"dryfit/plan/plantest"
)

const kit = `
kit: Box
parts:
  box: {number: "2", printed: filament}
  port-wing: {printed: resin, pair: starboard-wing}
  starboard-wing: {printed: resin}
  strut: {printed: resin, pair: other-strut}
  other-strut: {printed: resin}
  unit: {printed: resin}
  seat: {printed: resin, quantity: 2}
  pin: {bought: true, quantity: 21, size: [2, 2, 9]}
  tube: {bought: true, quantity: 2, size: [2, 2, 90]}
  screw: {bought: true, quantity: 2, size: [2, 2, 9], spares: 5}
  washer: {bought: true, quantity: 2, size: [2, 2, 1], spares: 0}
  jig: {printed: filament, class: tooling}
joins:
  - {fit: seat, to: unit, with: ca}
  - {fit: unit, to: box, bench: true, with: ca}
  - {fit: port-wing, to: box, with: epoxy}
  - {fit: starboard-wing, to: box, with: epoxy}
  - {fit: strut, to: box, with: ca}
  - {fit: other-strut, to: box, with: ca}
  - {fit: pin, to: box, with: press}
  - {fit: washer, to: box, with: press}
  - {fit: tube, to: box, with: press}
  - {fit: screw, to: box, with: screw}
`

// TestNumbers: own numbers win and are never given twice; sub-builds have their letter,
// mirrored parts their side where the names say it.
func TestNumbers(t *testing.T) {
	p := plantest.Check(t, kit)
	q := p.Sequence
	n := NewNumbers(p)
	want := map[string]string{"box": "2", "unit": "A1", "seat": "A2", "jig": "Z1"}
	seen := map[string]string{}
	for _, p := range q.Solution.Constraints.Kit.Parts {
		got := n.Of(p)
		if w := want[p.ID]; w != "" && got != w {
			t.Errorf("%s: %s, want %s", p.ID, got, w)
		}
		if other := seen[got]; got == "" || other != "" {
			t.Errorf("%s and %s have the number %q", p.ID, other, got)
		}
		seen[got] = p.ID
		if p.ID == "port-wing" {
			count, handed := strings.CutSuffix(got, "P")
			if !handed || n.Of(p.Pair) != count+"S" {
				t.Errorf("the wings are %s and %s", got, n.Of(p.Pair))
			}
		}
	}
}

func TestList(t *testing.T) {
	p := plantest.Check(t, kit)
	q := p.Sequence
	spares := map[string]int{"pin": 3, "tube": 0, "screw": 5, "washer": 0, "seat": 0}
	pieces := 0
	for _, i := range List(p) {
		if want, told := spares[i.Part.ID]; told && (i.Spares != want || i.Suggested != (i.Part.ID == "pin")) {
			t.Errorf("%s: %d spares, suggested %v", i.Part.ID, i.Spares, i.Suggested)
		}
		if i.Part.InModel() {
			pieces += i.Part.Quantity
			if len(i.Steps) == 0 {
				t.Errorf("%s comes in no step", i.Part.ID)
			}
		}
		if (i.Build > 0) != (i.Part.ID == "unit" || i.Part.ID == "seat") {
			t.Errorf("%s is in build %d", i.Part.ID, i.Build)
		}
	}
	if pieces != len(q.Solution.Constraints.Kit.Pieces) {
		t.Errorf("%d pieces of %d", pieces, len(q.Solution.Constraints.Kit.Pieces))
	}
}

// A bench piece on which nothing is built before it is joined makes no sub-build: it is
// listed with what it is joined to.
func TestBenchPieceWithoutBench(t *testing.T) {
	p := plantest.Check(t, `kit: Late
parts: {hull: {}, ring: {}, disc: {bought: true}}
joins:
  - {fit: ring, to: hull, with: ca, bench: true, step: ring-in}
  - {fit: disc, to: ring, with: epoxy, after: [ring-in]}
`)
	for _, i := range List(p) {
		if i.Build != 0 {
			t.Errorf("%s is in build %d, %q", i.Part.ID, i.Build, p.Sequence.Builds[i.Build].Letter)
		}
	}
}

func TestNatural(t *testing.T) {
	for _, c := range [][2]string{{"A2", "A10"}, {"A9", "B1"}, {"H01P", "H01S"}, {"1", "A1"}, {"99999999999999999999", "X"}} {
		if Natural(c[0], c[1]) >= 0 || Natural(c[1], c[0]) <= 0 {
			t.Errorf("%s does not stand before %s", c[0], c[1])
		}
	}
}

func TestFixings(t *testing.T) {
	steps := map[string]int{}
	for _, u := range Fixings(plantest.Check(t, kit)) {
		steps[u.Fixing.ID] = len(u.Steps)
	}
	if want := map[string]int{"ca": 4, "epoxy": 2, "press": 2, "screw": 1}; len(steps) != len(want) || steps["ca"] != 4 || steps["epoxy"] != 2 {
		t.Errorf("%v", steps)
	}
}
