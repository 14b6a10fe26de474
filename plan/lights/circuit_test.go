package lights_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/lights"
)

func circuit(k *kits.Kit, from *mesh.Collection) *lights.Circuit {
	return lights.Of(&plan.Project{Kit: k, Meshes: from}, lights.E12)
}

func kitWith(t *testing.T, lamps string) *kits.Kit {
	t.Helper()
	return kitstest.Read(t, `kit: Lamps
parts:
  hull: {printed: resin}
  lid: {printed: resin}
  frame: {printed: resin}
  lamp: {quantity: 7, bought: true}
joins:
  - {fit: frame, to: hull, with: ca}
  - {fit: lamp, to: frame, with: ca}
  - {fit: lid, to: hull, with: ca}
spaces:
  inside: {closed-by: [hull, lid], holds: [lamp.5, lamp.6]}
wires:
  - {wire: lead, from: hull, to: lamp.1, through: [frame], across: 1.1, hole: 1.4, bare: true}
lights:
  volts: 9
  fresh: 9.6
  flat: 6
  capacity: 500
  gauge: 30
  cover: 0.55
  branches:
`+lamps)
}

// seven lamps, each with a branch of its own, on a block of 9 V.
const seven = `    - {lamps: lamp.1, colour: red, current: 5}
    - {lamps: lamp.2, colour: green, current: 5}
    - {lamps: lamp.3, colour: white, current: 5}
    - {lamps: lamp.4, colour: warm-white, current: 2}
    - {lamps: lamp.5, colour: warm-white, current: 5}
    - {lamps: lamp.6, colour: warm-white, current: 5}
    - {lamps: lamp.7, colour: white, current: 10}
`

// Check values: worked by hand from R = (Vs - Vf) / I, I = (V - Vf) / R and hours =
// mAh / mA, to the digits shown.
func TestSevenLamps(t *testing.T) {
	c := circuit(kitWith(t, seven), nil)
	want := []string{"1500 4.67 5.07 2.67", "1200 4.83 5.33 2.33", "1200 4.83 5.33 2.33", "3300 1.76 1.94 0.85", "1200 4.83 5.33 2.33", "1200 4.83 5.33 2.33", "680 8.53 9.41 4.12"}
	for i, b := range c.Branches {
		if got := fmt.Sprintf("%g %.2f %.2f %.2f", b.Resistor, b.Nominal, b.Fresh, b.Flat); got != want[i] || !b.Proposed || b.Rating > 250 {
			t.Errorf("branch %d: %s, rated %g mW; want %s", i+1, got, b.Rating, want[i])
		}
	}
	nominal, least, most := c.Hours()
	if math.Abs(c.Nominal-34.29) > 0.01 || math.Abs(nominal-14.6) > 0.05 {
		t.Errorf("%.2f mA for %.2f h, want 34.29 mA for 14.6 h", c.Nominal, nominal)
	}
	if math.Abs(least-500/c.Fresh) > 1e-9 || !(least < nominal && nominal < most) {
		t.Errorf("from %g to %g h, around %g", least, most, nominal)
	}
	if p := c.Branches[6].Power; math.Abs(p-60.2) > 0.1 { // 6.4 V x 9.41 mA
		t.Errorf("%.1f mW in the largest resistor, want 60.2", p)
	}
	// The kit has a wire to the first lamp only.
	var unfed []string
	for _, f := range c.Findings() {
		if !strings.HasPrefix(f.Text, "no wire leads to ") {
			t.Errorf("finding: %s", f.Text)
		}
		unfed = append(unfed, f.Piece)
	}
	if want := "lamp.2 lamp.3 lamp.4 lamp.5 lamp.6 lamp.7"; strings.Join(unfed, " ") != want {
		t.Errorf("no wire leads to %s; want %s", unfed, want)
	}
}

func TestLightsFindings(t *testing.T) {
	for lamps, want := range map[string]struct {
		grade        plan.Grade
		text, repair string
	}{
		"{lamps: [lamp.1, lamp.2], colour: white, current: 5}":                                                                   {plan.Fault, "go dark at 6.4 V", "a branch of its own, with 1200 ohm each"},
		"{lamps: [lamp.1, lamp.2, lamp.3], colour: white, current: 5}":                                                           {plan.Fault, "cannot be lit: 9.6 V are needed", "a branch of its own"},
		"{lamps: [lamp.1], forward: 5.2, current: 5}":                                                                            {plan.Caution, "only 0.8 V are left", "still gives 6.2 V"},
		"{lamps: [lamp.1], forward: 5.8, current: 5}":                                                                            {plan.Fault, "go dim early: 0.2 V", "still gives 6.8 V"},
		"{lamps: [lamp.5, lamp.6], colour: red, current: 5}":                                                                     {plan.Caution, "in series in a closed space", "a branch of its own"},
		"{lamps: [lamp.1], colour: red, current: 5, resistor: 1000}":                                                             {plan.Caution, "1000 ohm let 7.00 mA through", "use 1500 ohm"},
		"{lamps: [lamp.1], colour: red, current: 5, resistor: 3300}":                                                             {plan.Caution, "less than half", "use 1500 ohm"},
		"{lamps: [lamp.1], colour: red, current: 5, resistor: 1450}":                                                             {plan.Caution, "not a standard E12 or E24 value", "use 1500 ohm"},
		"{lamps: [lamp.1], colour: red, current: 25}":                                                                            {plan.Caution, "more than small lamps take", "20 mA or less"},
		"{lamps: [lamp.1], colour: red, current: 900}":                                                                           {plan.Caution, "must dissipate", "lower voltage"},
		"{lamps: [lamp.1], colour: red, current: 5, wires: lead}\n    - {lamps: [lamp.2], colour: red, current: 5, wires: lead}": {plan.Caution, "4 wires of 0.55 mm take 62 %", "wider"},
	} {
		list := circuit(kitWith(t, "    - "+lamps+"\n"), nil).Findings()
		found := false
		for _, f := range list {
			found = found || f.Kind == plan.Lights && f.Grade == want.grade && strings.Contains(f.Text, want.text) && len(f.Repairs) > 0 && strings.Contains(f.Repairs[0].Text, want.repair)
		}
		if !found {
			t.Errorf("%s: no %s with %q and a repair with %q among %v", lamps, want.grade, want.text, want.repair, list)
		}
	}
}

// A branch that names a wire which leads to another lamp is found, with where it leads.
func TestBranchWithAnotherWire(t *testing.T) {
	list := circuit(kitWith(t, "    - {lamps: lamp.2, colour: red, current: 5, wires: lead}\n"), nil).Findings()
	i := slices.IndexFunc(list, func(f plan.Finding) bool {
		return f.Kind == plan.Lights && f.Piece == "lamp.2" && strings.Contains(f.Text, "none of the wires of its branch leads to lamp.2")
	})
	if i < 0 || len(list[i].Because) != 1 || list[i].Because[0].Text != "lead leads from hull to lamp.1" || len(list[i].Repairs) != 1 {
		t.Errorf("%+v", list)
	}
}

// A lead of 300 mm by the meshes: bends and ends are added to what is worked out, and
// what is stated must reach.
func TestLengths(t *testing.T) {
	at := func(x float64) *mesh.Mesh {
		m, err := mesh.FromTriangles("", meshtest.Transform(meshtest.Box([3]float64{-1, -1, -1}, [3]float64{1, 1, 1}), meshtest.Identity, [3]float64{x, 0, 0}, 1))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	from := meshtest.Collection(map[string]*mesh.Mesh{"hull": at(0), "frame": at(200), "lamp.1": at(300)}, nil)
	c := circuit(kitWith(t, "    - {lamps: lamp.1, colour: red, current: 5, wires: lead}\n"), from)
	if b := c.Branches[0]; math.Abs(b.Straight-300) > 1e-3 || math.Abs(b.Length-(300*1.2+2*60)) > 1e-2 {
		t.Errorf("straight %g, with bends and ends %g; want 300 and 480", b.Straight, b.Length)
	}
	c = circuit(kitWith(t, "    - {lamps: lamp.1, colour: red, current: 5, wires: lead, length: 250}\n"), from)
	if list := c.Findings(); len(list) != 1 || !strings.Contains(list[0].Text, "250 mm long") || !strings.Contains(list[0].Repairs[0].Text, "480 mm") {
		t.Errorf("a pair that is too short: %v", list)
	}
	if length, unknown := c.Pairs(); length != 250 || unknown != 0 {
		t.Errorf("pairs %g, unknown %d", length, unknown)
	}
}
