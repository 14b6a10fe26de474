package project_test

import (
	"reflect"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/cache"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
)

func printed(t *testing.T, p *plan.Project) (*printing.Plan, map[string]*printing.Planned) {
	t.Helper()
	made, _, err := project.Printing(t.Context(), p, nil, func(text string) { t.Error(text) })
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string]*printing.Planned{}
	for _, part := range made.Parts {
		parts[part.Of.Number] = part
	}
	return made, parts
}

// The cases of the demonstration that a practitioner looks at first; and a plan from
// the cache is the plan made afresh.
func TestDemoLies(t *testing.T) {
	p := projecttest.Load(t)
	before, err := cache.Folder()
	if err != nil {
		t.Fatal(err)
	}
	cache.Use(t.TempDir())
	t.Cleanup(func() { cache.Use(before) })
	fresh, parts := printed(t, p)
	for _, c := range []struct {
		part string
		up   geom.Vec // where this side of the model must not be up
		why  string
		most float64 // cm3 of columns
	}{
		{"H01P", geom.Vec{0, -1, 0}, "its cavity down", 80}, {"H01S", geom.Vec{0, 1, 0}, "its cavity down", 80},
		{"H02P", geom.Vec{0, -1, 0}, "its cavity down", 80}, {"H02S", geom.Vec{0, 1, 0}, "its cavity down", 80},
		{"X01", geom.Vec{1, 0, 0}, "on its windscreen", 60},
	} {
		s := parts[c.part].Setting
		t.Logf("%s: %s; %v to %v, %.1f cm3 of columns", c.part, s.Why, s.Time.Low, s.Time.High, s.Cost.Columns)
		if up := s.Turn[2].Dot(c.up); up > 0.5 || s.Cost.Columns > c.most {
			t.Errorf("%s lies %s, with %v up, over %.0f cm3 of columns: %s", c.part, c.why, s.Turn[2], s.Cost.Columns, s.Why)
		}
	}
	for _, id := range []string{"H09P", "H09S"} {
		if s := parts[id].Setting; s.Height() > 15 {
			t.Errorf("%s, a thin rail, stands %.0f mm high", id, s.Height())
		}
	}
	// Seen: the outside of the hull, not the cabin's floor; all of what is clear.
	if n := parts["H02P"].Setting.Need; n.Visible < 0.9*n.Area {
		t.Errorf("of the outside of a hull half only %.0f of %.0f mm2 are seen", n.Visible, n.Area)
	}
	if n := parts["C01"].Setting.Need; n.Visible > 0.05*n.Area {
		t.Errorf("of the underside of the cockpit floor %.0f of %.0f mm2 are seen", n.Visible, n.Area)
	}
	if n := parts["X01"].Setting.Need; n.Visible < 0.99*n.Area {
		t.Errorf("of the canopy only %.0f of %.0f mm2 count as seen", n.Visible, n.Area)
	}
	for part, want := range map[string][2]float64{"H02P": {0.4, 0.6}, "H03P": {0, 0}, "F03": {0, 0}, "S01": {0.95, 1}, "R01": {0, 0.2}} {
		if share := shareSeen(t, parts[part].Part); share < want[0] || share > want[1] {
			t.Errorf("of %s %.0f %% are seen, should be %.0f to %.0f", part, 100*share, 100*want[0], 100*want[1])
		}
	}
	kept, _ := printed(t, p)
	for i, part := range fresh.Parts {
		if !reflect.DeepEqual(part.Setting, kept.Parts[i].Setting) {
			t.Errorf("%s: %+v, from the cache %+v", part.Of.ID, part.Setting, kept.Parts[i].Setting)
		}
	}
}

// shareSeen is how much of a part's surface is seen on the finished model.
func shareSeen(t *testing.T, part *printing.Part) float64 {
	t.Helper()
	var all, seen float64
	err := part.Surface.Blocks(func(first int, block []mesh.Triangle) error {
		for i, c := range block {
			area := geom.Point(c[1]).Minus(geom.Point(c[0])).Cross(geom.Point(c[2]).Minus(geom.Point(c[0]))).Length() / 2
			if all += area; part.Seen(first + i) {
				seen += area
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return seen / all
}

// The resin of the demonstration kit, opaque and clear, for each aim: few plates, or a
// short time with the changes of plates, and nothing that is likely to fail.
func TestAims(t *testing.T) {
	p := projecttest.Load(t)
	type bar struct {
		aim   printing.Aim
		most  int
		hours float64
	}
	for _, c := range kitstest.Some(t, 3, []bar{{printing.ForPlates, 5, 13}, {printing.ForTime, 7, 12}, {printing.ForOrder, 7, 14}}) {
		made, _, err := project.Printing(t.Context(), p, func(r *printing.Request) {
			r.NoLayers, r.Aim = true, c.aim
			r.Printers = slices.DeleteFunc(slices.Clone(r.Printers), func(p *kits.Printer) bool { return p.Process != kits.Resin })
			r.Parts = slices.DeleteFunc(r.Parts, func(p *printing.Part) bool { return p.Of.Printed != kits.Resin })
		}, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d plates, %.2f h", c.aim, len(made.Plates), made.Ends.High.Hours())
		if len(made.Plates) > c.most || made.Ends.High.Hours() > c.hours {
			t.Errorf("%s: %d plates, %.2f h; want at most %d, %g h", c.aim, len(made.Plates), made.Ends.High.Hours(), c.most, c.hours)
		}
		for _, f := range made.Worse(nil) {
			if f.Grade != plan.Note {
				t.Errorf("%s: %s", c.aim, f.Text)
			}
		}
	}
}
