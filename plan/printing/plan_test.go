package printing

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/plantest"
)

const boat = `kit: Boat
parts:
  hull: {printed: filament, size: [120, 40, 30]}
  deck: {printed: filament, size: [120, 40, 2]}
  seat: {name: Crew seat, number: C1, printed: resin, quantity: 2, spares: 1, size: [10, 10, 12]}
  pane: {printed: resin, material: clear, size: [20, 1, 10]}
  keel: {printed: filament, size: [400, 4, 10]}
  rope: {bought: true, size: [5, 5, 5]}
  flag: {printed: resin}
  jig: {printed: filament, class: tooling, quantity: 2, size: [50, 20, 4]}
joins:
  - {fit: keel, to: hull, with: ca}
  - {fit: pane, to: deck, with: ca}
  - {fit: flag, to: deck, with: ca}
  - {fit: seat, to: hull, with: ca, step: seats}
  - {fit: rope, to: hull, with: ca}
  - {close: [hull, deck], with: ca, after: [seats, rope]}
materials: {clear: {process: resin, density: 1.1}}
printers:
  small: {process: resin, volume: [100, 60, 150]}
  big: {process: filament, volume: [200, 200, 200], layer: 0.4, line: 0.4}
`

// shapes are meshes by piece; those of seats have a hollow.
func shapes(list map[string]*mesh.Mesh) *mesh.Collection {
	health := map[string]*mesh.Health{}
	for id := range list {
		if strings.Contains(id, "seat") {
			health[id] = &mesh.Health{Problems: []mesh.Problem{{Kind: mesh.Hollow, Count: 1}}}
		}
	}
	return meshtest.Collection(list, health)
}

func planned(t *testing.T, text string, from *mesh.Collection) (*plan.Project, Request, []*kits.Part, *Plan) {
	t.Helper()
	rep := plantest.Check(t, text)
	rep.Meshes = from
	r, missing, err := Ask(rep)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Make(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	return rep, r, missing, p
}

// What is bought is not printed; what has neither mesh nor size is missing; what is never
// in the model comes last.
func TestAsk(t *testing.T) {
	rep, r, missing, p := planned(t, boat, nil)
	var ids []string
	for _, part := range r.Parts {
		for _, piece := range part.Pieces {
			ids = append(ids, piece.ID)
		}
	}
	if got, want := strings.Join(ids, " "), "hull deck seat.1 seat.2 seat.spare-1 pane keel jig.1 jig.2"; got != want {
		t.Errorf("pieces to print %q, want %q", got, want)
	}
	if len(missing) != 1 || missing[0].ID != "flag" {
		t.Errorf("missing are %v", missing)
	}
	place := map[string]int{}
	for v, s := range rep.Constraints.Steps {
		if s.Kind == plan.Fit {
			place[rep.Kit.Pieces[s.Join.Pieces[0]].ID] = rep.Sequence.Place[v]
		}
	}
	for _, part := range r.Parts {
		want := 0
		switch part.Of.ID {
		case "seat":
			want = place["seat.1"]
		case "pane":
			want = place["pane"]
		case "jig":
			want = NoStep
		case "hull":
			want = min(place["keel"], place["seat.1"], place["rope"])
		default:
			continue
		}
		if part.Pieces[0].Need != want {
			t.Errorf("%s is needed at %d, want %d", part.Of.ID, part.Pieces[0].Need, want)
		}
	}
	printed := 0
	for _, plate := range p.Plates {
		printed += len(plate.Pieces)
	}
	if printed != 8 { // all but the keel, which is too long
		t.Errorf("%d pieces are on plates, want 8", printed)
	}
}

// A step has its pieces once the last of the plates that hold them is done, and
// so have the steps before it; bought pieces delay no step.
func TestReady(t *testing.T) {
	rep, _, _, p := planned(t, boat, nil)
	done := map[string]time.Duration{}
	for _, plate := range p.Plates {
		for _, x := range plate.Pieces {
			done[x.Piece.ID] = plate.Ends.High
		}
	}
	list := p.Ready(rep)
	if len(list) != len(rep.Constraints.Steps) {
		t.Fatalf("%d steps, want %d", len(list), len(rep.Constraints.Steps))
	}
	for _, r := range list {
		s := rep.Constraints.Steps[r.Step]
		switch {
		case s.Kind == plan.Close:
			if want := max(done["hull"], done["deck"]); r.Own.High != want {
				t.Errorf("the closing has its own pieces after %v, want %v", r.Own.High, want)
			}
			if want := max(done["hull"], done["deck"], done["seat.1"], done["seat.2"]); r.All.High != want {
				t.Errorf("the closing can begin after %v, want %v", r.All.High, want)
			}
		case rep.Kit.Pieces[s.Join.Pieces[0]].ID == "rope":
			if r.Own.High != done["hull"] {
				t.Errorf("the rope waits until %v, want %v for the hull alone", r.Own.High, done["hull"])
			}
		}
	}
}

// wants looks for a finding of a grade whose text has all the words.
func wants(t *testing.T, list []plan.Finding, g plan.Grade, words ...string) plan.Finding {
	t.Helper()
	for _, f := range list {
		has := f.Grade == g
		for _, w := range words {
			has = has && strings.Contains(f.Text, w)
		}
		if has {
			return f
		}
	}
	t.Errorf("no %s says %q", g, words)
	return plan.Finding{}
}

func TestFindings(t *testing.T) {
	_, r, missing, p := planned(t, boat, nil)
	list := p.Findings(r.Printers, missing)
	f := wants(t, list, plan.Fault, "keel fits no printer", "it sticks out of big by", "mm along its")
	if len(f.Repairs) != 2 || len(f.Because) != 2 || !strings.HasPrefix(f.Because[0].At, "kit.yaml:7:") {
		t.Errorf("the keel's finding is %+v", f)
	}
	wants(t, list, plan.Caution, "so not planned: flag")
	wants(t, list, plan.Caution, "big: layers of 0.4 mm are more than four fifths of a line of 0.4 mm")
	wants(t, list, plan.Note, "planned as boxes", "hull, deck, seat, pane, keel and jig")

	text := strings.Replace(boat, "  small: {process: resin, volume: [100, 60, 150]}\n", "", 1)
	_, r, missing, p = planned(t, text, nil)
	wants(t, p.Findings(r.Printers, missing), plan.Fault, "no printer of the kit prints resin", "seat and pane")
}

// With meshes, layers are checked, and copies that differ are reported.
func TestFindingsOfMeshes(t *testing.T) {
	of := func(list []mesh.Triangle) *mesh.Mesh { return meshOf(t, list) }
	// So large that it fits straight alone, whole side on the bed.
	slab := meshtest.Box([3]float64{0, 0, 0}, [3]float64{99, 59, 140})
	from := map[string]*mesh.Mesh{
		"seat.1": of(meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 10, 12})),
		"seat.2": of(meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 10, 13})),
		"pane":   of(slab),
	}
	_, r, missing, p := planned(t, boat, shapes(from))
	list := p.Findings(r.Printers, missing)
	wants(t, list, plan.Caution, "Crew seat C1", "1 sealed hollow: resin stays in")
	wants(t, list, plan.Caution, "Crew seat C1", "copies differ in volume or surface")
	wants(t, list, plan.Caution, "pane", "its largest layer", "of the bed")
	for _, part := range p.Parts {
		if part.Of.ID == "seat" && (!part.Sliced || math.Abs(part.Mass-1.2*1.15) > 1e-6) {
			t.Errorf("a seat of 1.2 cm3 weighs %g g, sliced: %v", part.Mass, part.Sliced)
		}
		if part.Of.ID == "pane" && part.Made.ID != "clear" {
			t.Errorf("the pane is made of %s", part.Made.ID)
		}
	}
}

// Layers that grow suddenly are reported with their height; so are pieces that
// together cover much of a bed.
func TestFindingsOfLayers(t *testing.T) {
	printer := testPrinter("p", kits.Resin, geom.Vec{100, 60, 150})
	material := &kits.Material{ID: "resin", Process: kits.Resin, Density: 1.15}
	of := &kits.Part{ID: "a", Name: "a", Printed: kits.Resin, Material: material}
	s := &Setting{Size: geom.Vec{40, 40, 10}, Raised: 0}
	part := &Planned{Part: &Part{Of: of, Pieces: []Piece{{ID: "a.1", Need: 1}, {ID: "a.2", Need: 1}}}, Setting: s, Printer: printer, Made: material,
		profile: &Profile{Step: 0.05, Area: make([]float32, 200)}}
	for n := range part.profile.Area {
		part.profile.Area[n] = 100
		if n >= 100 {
			part.profile.Area[n] = 1600
		}
	}
	part.Largest, part.Growth = part.profile.Largest(), part.profile.Growth(true)
	plate := &Plate{Number: 7, Printer: printer, Material: material, Pieces: []Placed{{Part: part.Part, Setting: s}, {Part: part.Part, Setting: s, X: 50}}}
	p := &Plan{Parts: []*Planned{part}, Plates: []*Plate{plate}}
	list := p.Findings([]*kits.Printer{printer}, nil)
	wants(t, list, plan.Caution, "a: its layers grow by 1500 mm2 at once at 5.0 mm, 25 % of the bed")
	wants(t, list, plan.Caution, "plate 7: at 5.0 mm its pieces together cover 53 % of the bed")
	if len(list) != 2 {
		t.Errorf("%d findings, want 2: %v", len(list), list)
	}
}

// A hull half of 360 mm fits no bed of 240 x 230 mm; one of 270 mm does, from corner to
// corner of the bed.
func TestMistakeHullTooLong(t *testing.T) {
	text := kitstest.Mistake(t, string(demo.Kit), "m14-hull-too-long")
	_, r, missing, p := planned(t, text, nil)
	f := wants(t, p.Findings(r.Printers, missing), plan.Fault, "Port fore hull half H01P fits no printer", "it sticks out of desk-filament by")
	if len(f.Repairs) == 0 || f.Repairs[0].Text != "split it" {
		t.Errorf("repairs %v", f.Repairs)
	}
	_, r, missing, p = planned(t, kitstest.Replace(t, text, "[360, 48, 120]", "[270, 36, 90]"), nil)
	for _, f := range p.Findings(r.Printers, missing) {
		if f.Grade != plan.Note {
			t.Errorf("at 270 mm: %s", f.Text)
		}
	}
	if fit := p.Parts[0].On[1]; fit.Way != Turned {
		t.Errorf("at 270 mm it goes in %s", fit.Way)
	}
}

// A part that says nothing of how it is printed goes on any printer, of the plain
// material of that.
func TestPartOfNoProcess(t *testing.T) {
	_, _, _, p := planned(t, `kit: Plain
parts: {a: {size: [90, 50, 20]}, b: {size: [150, 150, 20]}}
joins: [{fit: a, to: b}]
printers:
  small: {process: resin, volume: [100, 60, 150]}
  big: {process: filament, volume: [200, 200, 200]}
`, nil)
	for _, part := range p.Parts {
		if !part.Fits() || part.Made.ID != kits.PlainMaterial(part.Printer.Process) {
			t.Errorf("%s is on %v, of %v", part.Of.ID, part.Printer, part.Made)
		}
	}
	if p.Parts[1].Printer.ID != "big" {
		t.Error("what fits only the big printer is elsewhere")
	}
}

// broken is a surface that cannot be read.
type broken struct{}

var errBroken = errors.New("gone")

func (broken) Blocks(func(int, []mesh.Triangle) error) error { return errBroken }

func TestMakeErrors(t *testing.T) {
	r := manyParts(t, 5)
	r.Parts[3].Surface = broken{}
	if _, err := Make(t.Context(), r); !errors.Is(err, errBroken) {
		t.Errorf("a mesh that cannot be read gives %v", err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := Make(ctx, manyParts(t, 5)); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped plan gives %v", err)
	}
	many := Request{Printers: slices.Repeat([]*kits.Printer{testPrinter("one", kits.Resin, geom.Vec{1, 1, 1})}, 20), Parts: slices.Repeat(r.Parts[:1], 20_000)}
	many.Parts[0].Of.Printed = kits.Resin
	if _, err := Make(t.Context(), many); err == nil || !strings.Contains(err.Error(), "too many combinations to plan") {
		t.Errorf("20,000 parts on 20 printers give %v", err)
	}
	if p, err := Make(t.Context(), Request{Printers: r.Printers, Materials: r.Materials}); err != nil || len(p.Plates) != 0 {
		t.Errorf("nothing to print gives %v, %v", p, err)
	}
}

// A part without size is reported, not divided by.
func TestFlatMesh(t *testing.T) {
	flat := []mesh.Triangle{{{0, 0, 0}, {30, 0, 0}, {0, 20, 0}}, {{0, 0, 0}, {0, 20, 0}, {30, 0, 0}}}
	for _, process := range []string{kits.Resin, kits.Filament} {
		r := Request{Printers: []*kits.Printer{testPrinter("p", process, geom.Vec{100, 100, 100})},
			Materials: []*kits.Material{{ID: "resin", Process: kits.Resin}, {ID: "pla", Process: kits.Filament}},
			Parts:     []*Part{partOf(t, &kits.Part{ID: "sheet", Printed: process}, flat)}}
		p, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range append(p.Parts[0].Setting.Size[:], p.Parts[0].Mass, hoursOf(p.Ends)) {
			if math.IsNaN(v) || math.IsInf(v, 0) || v > 1e3 {
				t.Errorf("%s: %v", process, fmt.Sprint(p.Parts[0].Setting, p.Ends))
			}
		}
	}
}

func hoursOf(b Band) float64 { return b.High.Hours() }
