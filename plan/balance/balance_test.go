package balance_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/balance"
	"dryfit/plan/plantest"
)

// A plank on wheels: two halves are closed over a tray of shot. As weighed it is 520 g
// and balances at 235; 130 g of shot at 35 are needed, which take 28.3 cm3.
const plank = `kit: Plank
parts:
  half-left: {printed: resin}
  half-right: {printed: resin}
  tail: {printed: resin}
  tray: {printed: resin}
  shot: {bought: true, mass: 130}
joins:
  - {fit: shot, to: tray, with: epoxy}
  - {fit: tray, to: half-left, with: epoxy, bench: true}
  - {close: [half-left, half-right], with: epoxy, step: closing}
  - {fit: tail, to: half-left, with: ca, after: [closing]}
spaces:
  bow: {closed-by: [half-left, half-right], holds: [tray, shot]}
balance: {along: x, support: 205, margin: 10, ballast: shot, at: 35, inside: [42, 30, 24], weighed: {mass: 520, at: 235}}
`

func plankWith(t *testing.T, edits ...string) *plan.Project {
	t.Helper()
	return plantest.Check(t, kitstest.Replace(t, plank, edits...))
}

func TestWeighed(t *testing.T) {
	rep := plankWith(t)
	r := balance.Of(rep)
	if math.Abs(r.Needed-130) > 1e-9 || math.Abs(r.Volume-28.26) > 0.01 || math.Abs(r.Finished.At-195) > 1e-9 || r.Finished.Mass != 650 {
		t.Errorf("needed %g g, %g cm3, finished %+v; want 130 g, 28.26 cm3, 650 g at 195", r.Needed, r.Volume, r.Finished)
	}
	if r.Before < 0 || rep.Constraints.Steps[r.Before].Kind != plan.Close || r.In < 0 || rep.Constraints.Steps[r.In].Join.Pieces[0] != 4 {
		t.Errorf("in by step %d, before step %d", r.In, r.Before)
	}
	if list := r.Findings(); len(list) > 0 {
		t.Errorf("nothing is wrong, yet %v", list)
	}
}

func TestBalanceFindings(t *testing.T) {
	for _, c := range []struct {
		edits        []string
		grade        plan.Grade
		text, repair string
	}{
		{[]string{"[42, 30, 24]", "[42, 30, 17]"}, plan.Fault, "130 g take 28.3 cm3, and there is room for 21.4 cm3, or 99 g", "at least 42 x 30 x 22.5 mm inside"},
		{[]string{"inside: [42, 30, 24]", "room: 20"}, plan.Fault, "there is room for 20.0 cm3", "make room for 28.3 cm3"},
		{[]string{"[42, 30, 24]", "[42, 30, 17], pack: 6.8"}, "", "", ""}, // 19.1 cm3 of denser shot
		{[]string{"mass: 130", "mass: 100"}, plan.Caution, "balances at x = 203 mm, 2 mm from its support where 10 mm are wanted", "put in 130 g: mass: 130 on shot"},
		{[]string{"mass: 130", "mass: 60"}, plan.Fault, "balances at x = 214 mm, 9 mm beyond its support at 205 mm, and tips over", "put in 130 g"},
		{[]string{", mass: 130", "", "[42, 30, 24]", "[42, 30, 17]"}, plan.Fault, "130 g take 28.3 cm3", "42 x 30 x 22.5"},
		{[]string{"at: 35", "at: 198"}, plan.Fault, "cannot bring the model to balance at x = 195 mm: at 198 mm", "farther"},
		{[]string{"bench: true}", "bench: true, after: [tail]}"}, plan.Caution, "as long as shot cannot be put in, the model balances at x = 235 mm, 30 mm beyond its support at 205 mm", ""},
	} {
		list := balance.Of(plankWith(t, c.edits...)).Findings()
		if c.grade == "" {
			if len(list) > 0 {
				t.Errorf("%q: %v", c.edits, list)
			}
			continue
		}
		found := false
		for _, f := range list {
			found = found || f.Kind == plan.Balances && f.Grade == c.grade && strings.Contains(f.Text, c.text) &&
				(c.repair == "" || len(f.Repairs) > 0 && strings.Contains(f.Repairs[0].Text, c.repair))
		}
		if !found {
			t.Errorf("%q: no %s with %q and %q among %+v", c.edits, c.grade, c.text, c.repair, list)
		}
	}
}

// As it grows: the tray counts once it is in, the right half once it is closed on.
// Four cubes of 10 mm of resin, 1.15 g each, and 130 g of shot.
func TestStages(t *testing.T) {
	rep := plankWith(t)
	box := func(x float64) []float64 { return []float64{x} }
	from := meshes{}
	for id, x := range map[string][]float64{"half-left": box(100), "half-right": box(200), "tail": box(400), "tray": box(30), "shot": box(30)} {
		from[id] = made(t, meshtest.Box([3]float64{-5, -5, -5}, [3]float64{5, 5, 5}), [3]float64{x[0], 0, 0})
	}
	rep.Meshes = meshtest.Collection(from, nil)
	var got []string
	for _, s := range balance.Of(rep).Stages {
		got = append(got, fmt.Sprintf("%s: %d pieces, %.2f g at %.2f", rep.Constraints.Does(s.Step), s.Pieces, s.Mass, s.At))
	}
	// By hand: (131.15 x 30 + 1.15 x 100) / 132.3, and so on.
	want := `Fit tray to half left: 3 pieces, 132.30 g at 30.61
Close half left and half right on each other: 4 pieces, 133.45 g at 32.07
Fit tail to half left: 5 pieces, 134.60 g at 35.21`
	if strings.Join(got, "\n") != want {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
}
