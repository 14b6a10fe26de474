package totals_test

import (
	"context"
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/plantest"
	"dryfit/plan/printing"
	"dryfit/plan/totals"
)

const boxes = `kit: Boxes
materials:
  grey: {process: resin, density: 1.2, package: 10, price: 30.50 EUR}
  red: {process: filament, density: 1.25, package: 750, price: 20 EUR}
  blue: {process: filament, density: 1, package: 500, price: 9 USD}
  white: {process: filament, density: 1}
parts:
  base: {printed: resin, material: grey, colour: Sea grey, paint: outside}
  post: {printed: resin, material: grey, quantity: 3, spares: 2, colour: Red, paint: before-fit}
  roof: {printed: filament, material: red, fill: 20%, paint: outside}
  stop: {printed: filament, material: blue, size: [10, 10, 10]}
  plug: {printed: filament, material: white, size: [1, 1, 1]}
  jig: {printed: resin, material: grey, class: tooling, size: [20, 10, 10], paint: none}
  bolt: {bought: true, quantity: 2, mass: 4, spares: 1}
  nut: {bought: true}
  pin: {bought: true, quantity: 12, size: [2, 2, 8], mass: 1}
joins:
  - {fit: post, to: base, with: epoxy}
  - {fit: roof, to: [post.1, post.2, post.3], with: ca}
  - {fit: stop, to: roof, with: ca}
  - {fit: plug, to: roof, with: ca}
  - {fit: bolt, to: base, with: screw}
  - {fit: nut, to: base, with: screw}
  - {fit: pin, to: base, with: press}
tasks: [{do: Paint, coat: outside}]
printers:
  one: {process: resin, volume: [100, 100, 100]}
  two: {process: filament, volume: [100, 100, 100], overhead: [2, 3], flow: 5, change: 0s}
`

// The sums are those of the boxes, worked out here once more by hand.
func TestMake(t *testing.T) {
	p := plantest.Check(t, boxes)
	box := func(x, y, z float64) *mesh.Mesh {
		m, err := mesh.FromTriangles("", meshtest.Box([3]float64{}, [3]float64{x, y, z}))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	post := box(5, 5, 30)
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"base": box(50, 40, 10), "post.1": post, "post.2": post, "post.3": post, "roof": box(60, 50, 4)}, nil)
	p.Constraints.Geometry = &plan.Geometry{Touching: []plan.Touch{{A: 0, B: 1, Contact: 25}, {A: 2, B: 0, Contact: 25}, {A: 3, B: 0, Contact: 20}, {A: 1, B: 4, Contact: 24}, {A: 1, B: 2, Contact: 9}}}
	r, _, err := printing.Ask(p)
	if err != nil {
		t.Fatal(err)
	}
	made, err := printing.Make(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := totals.Make(p, made)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-6*math.Max(1, want) {
			t.Errorf("%s is %g, want %g", what, got, want)
		}
	}
	if len(got.Prints) != 4 {
		t.Fatalf("%d materials", len(got.Prints))
	}
	grey, red := got.Prints[0], got.Prints[1]
	volume := 20 + 5*0.75 + 2 // base, three posts and two spares, jig
	near("volume of grey", grey.Volume, volume)
	near("mass of grey", grey.Mass, (volume+grey.Supports)*1.2*1.1)
	near("packages of grey", float64(grey.Packages), math.Ceil(grey.Mass/10))
	near("cost of grey", grey.Cost, 30.5*math.Ceil(grey.Mass/10))
	// Roof: 12 cm3 with 6880 mm2 of surface; walls of 1.2 mm are 8.256 cm3, and a fifth of the rest is filled.
	near("volume of red", red.Volume, 8.256+0.2*(12-8.256))
	near("mass of red", red.Mass, (red.Volume+red.Supports)*1.25*1.05)
	if !grey.AtMost || red.AtMost || grey.Pieces != 7 {
		t.Errorf("grey is an upper bound for its jig: %+v; red is not: %+v", grey, red)
	}
	hours := 0.0
	for _, plate := range made.Plates {
		hours += plate.Takes.High.Hours()
	}
	sum := 0.0
	for _, m := range got.Prints {
		sum += m.Takes.High.Hours()
	}
	near("hours", sum, hours)
	costs, unpriced := got.Costs()
	if len(costs) != 2 || costs[0].Currency != "EUR" || costs[1].Currency != "USD" || len(unpriced) != 1 || unpriced[0].ID != "white" {
		t.Errorf("costs %+v, without a price %v", costs, unpriced)
	}
	near("euros", costs[0].Buy, grey.Cost+20)

	near("hardware", got.Shipping.Others, 12+14) // pins with two spares, as the parts list suggests
	near("prints", got.Shipping.Prints, volume*1.2+red.Volume*1.25+1+0.001)
	if len(got.Shipping.Unknown) != 1 || got.Shipping.Unknown[0].ID != "nut" {
		t.Errorf("mass not known of %v", got.Shipping.Unknown)
	}

	if len(got.Paints) != 3 || got.Paints[0].Colour != "Sea grey" || got.Paints[1].Colour != "Red" || got.Paints[2].Colour != "" {
		t.Fatalf("paints %+v", got.Paints)
	}
	near("sea grey", got.Paints[0].Area, 2*(50*40+40*10+50*10)/100.0)
	near("red paint", got.Paints[1].Area, 3*2*(25+150+150)/100.0)
	near("red paint", got.Paints[1].Colours, got.Paints[1].Area*2/60)
	near("primer", got.Paints[1].Primer, got.Paints[1].Area/60)

	if len(got.Glues) != 2 || got.Glues[0].Fixing.ID != "ca" || got.Glues[1].Fixing.ID != "epoxy" {
		t.Fatalf("glues %+v", got.Glues)
	}
	near("ca", got.Glues[0].Area, 0.24)
	near("epoxy", got.Glues[1].Area, 0.7)
	near("epoxy", got.Glues[1].ML, 0.7*0.02)
	if got.Glues[0].Unknown != 2 || got.Glues[0].Joins != 3 {
		t.Errorf("ca: %+v", got.Glues[0])
	}
}

// Without printers nothing is said of hours, and mass follows from the volumes alone.
func TestWithoutPrinters(t *testing.T) {
	p := plantest.Check(t, "kit: K\nparts: {box: {printed: resin, size: [10, 10, 10]}, odd: {printed: resin}}\njoins: [{fit: odd, to: box}]\n")
	got, err := totals.Make(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Prints) != 1 || got.Prints[0].Takes.High != 0 || math.Abs(got.Prints[0].Mass-1.15*1.1) > 1e-9 || len(got.Unknown) != 1 {
		t.Errorf("%+v, unknown %v", got.Prints, got.Unknown)
	}
}

// Copies of one part that go on printers of two processes count by the material of their
// plates, as do the hours.
func TestTwoProcesses(t *testing.T) {
	p := plantest.Check(t, `kit: Beads
parts:
  bead: {quantity: 10, size: [40, 40, 40]}
  lid: {size: [40, 40, 40]}
joins: [{fit: bead, to: lid}]
printers:
  one: {process: resin, volume: [90, 90, 90]}
  two: {process: filament, volume: [90, 90, 90]}
`)
	r, _, err := printing.Ask(p)
	if err != nil {
		t.Fatal(err)
	}
	made, err := printing.Make(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	pieces, takes := map[string]int{}, map[string]printing.Band{}
	for _, plate := range made.Plates {
		id := plate.Material.ID
		pieces[id] += len(plate.Pieces)
		takes[id] = printing.Band{Low: takes[id].Low + plate.Takes.Low, High: takes[id].High + plate.Takes.High}
	}
	if len(pieces) != 2 {
		t.Fatalf("the test needs plates of two materials, not %v", pieces)
	}
	got, err := totals.Make(p, made)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Prints) != 2 {
		t.Fatalf("%d materials, want resin and pla", len(got.Prints))
	}
	for _, m := range got.Prints {
		if m.Pieces != pieces[m.Of.ID] || m.Takes != takes[m.Of.ID] || math.Abs(m.Volume-64*float64(m.Pieces)) > 1e-9 {
			t.Errorf("%s: %d pieces, %g cm3, %v; on plates %d, %v", m.Of.ID, m.Pieces, m.Volume, m.Takes, pieces[m.Of.ID], takes[m.Of.ID])
		}
	}
}
