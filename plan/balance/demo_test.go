package balance_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan/balance"
	"dryfit/plan/plantest"
	"dryfit/plan/project/projecttest"
)

// The demonstration kit stands on its wheels with the shot that it states, which goes in
// before the hull is closed; nothing of it is left unweighed.
func TestDemonstrationKitBalances(t *testing.T) {
	rep := plantest.Check(t, string(demo.Kit))
	rep.Meshes = projecttest.Load(t).Meshes
	r := balance.Of(rep)
	if list := r.Findings(); len(list) > 0 {
		t.Errorf("findings: %+v", list)
	}
	if r.Needed < 120 || r.Needed > 130 || r.Stated != 130 || r.Off(r.Finished.At) > -10 {
		t.Errorf("%.0f g of %.0f g are needed; it balances at %.1f mm", r.Needed, r.Stated, r.Finished.At)
	}
	if r.Before < 0 || rep.Constraints.Steps[r.Before].Join == nil || rep.Constraints.Steps[r.Before].Join.Step != "hull-closing" {
		t.Errorf("the shot must be in before step %d, not before the hull is closed", r.Before)
	}
	for p, w := range r.Weights {
		if w.How == balance.Unknown || w.How == balance.BySize || w.Place != balance.Measured {
			t.Errorf("%s: mass by %s, place by %s", rep.Kit.Pieces[p].ID, w.How, w.Place)
		}
	}
	if last := r.Stages[len(r.Stages)-1]; last.Pieces != len(rep.Kit.Pieces) || math.Abs(last.At-r.Finished.At) > 1e-6 {
		t.Errorf("the last stage is %+v, the finished model %+v", last, r.Finished)
	}
}

// Ballast that is asked for only after the hull is closed is trapped, and its want is
// told in figures: as in testdata/mistakes, m01.
func TestLateBallastIsMissing(t *testing.T) {
	text := kitstest.Mistake(t, string(demo.Kit), "m01-ballast-late")
	rep := plantest.Check(t, text)
	rep.Meshes = projecttest.Load(t).Meshes
	r := balance.Of(rep)
	list := r.Findings()
	if len(list) != 1 || !strings.Contains(list[0].Text, "as long as shot cannot be put in, the model balances at x = 225 mm, 13 mm beyond its support at 212 mm") {
		t.Errorf("findings: %+v", list)
	}
}
