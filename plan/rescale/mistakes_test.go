package rescale_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/project/projecttest"
	"dryfit/plan/rescale"
)

// want is a finding: its kind, grade and piece, and words of its text, reasons and
// repairs.
type want struct {
	kind  string
	grade plan.Grade
	piece string
	says  []string
}

// The demonstration kit at other scales, with its meshes, which take long to measure.
func TestDemonstrationKit(t *testing.T) {
	if testing.Short() {
		t.Skip("it measures the demonstration kit")
	}
	was := projecttest.Load(t)
	t.Run("mistakes", func(t *testing.T) { mistakes(t, was) })
	t.Run("nothing breaks", func(t *testing.T) { nothingBreaks(t, was) })
}

// Mistakes of scale, with the meshes of the demonstration kit. The numbers of M5 follow
// from the scenario: pockets of 5.2 mm become 3.47, a hull wall of 1.6 becomes 1.07, a
// clearance of 0.4 on each side 0.27, a battery opening of 54 x 31 becomes 36 x 20.7.
func mistakes(t *testing.T, was *plan.Project) {
	for _, c := range kitstest.Some(t, 2, []struct {
		edit  string
		wants []want
	}{
		{"m05-two-thirds", []want{
			{rescale.Seating, plan.Fault, "magnet-hatch.1", []string{"does not fit its place at 1:47.98", "dorsal-hatch leaves it 5.2", "takes 5 mm", "keep its room", "choose a smaller one, with at most 3.4"}},
			{rescale.Seating, plan.Fault, "magnet-floor.1", []string{"floor leaves it 4.19 mm now", "battery-hatch and floor leave it 4.4 mm now and 2.93 mm", "with magnet-battery-hatch"}},
			{rescale.Seating, plan.Fault, "battery", []string{"battery-cradle leaves it 26.7 mm now and 17.81 mm", "takes 26.5 mm"}},
			{rescale.Seating, plan.Fault, "spar-tube", []string{"takes 420 mm", "along y"}},
			{plan.Serviceable, plan.Caution, "battery", []string{"only by turning", "36.02 x 20.68 mm", "enlarge the opening that battery-hatch covers", "to at least 49.3 x 27.3 mm"}},
			{plan.WireEnd, plan.Caution, "", []string{"lead-wing-roots becomes tight", "2.2 mm across in 2.67 mm, 68 % full instead of 30 %", "make the hole at least 3.2 mm across"}},
			{plan.WireEnd, plan.Caution, "bulkhead-cabin", []string{"lead-cockpit, lead-cabin-1", "if they share one hole, of 2.67 mm", "several"}},
			{rescale.Walls, plan.Caution, "hull-port-fore", []string{"hull-port-fore: walls of 1.6 mm become 1.07 mm; advised are 1.2 mm", "thicken"}},
			{rescale.Walls, plan.Fault, "wire-clip", []string{"dorsal-hatch: 0.8 mm becomes 0.53 mm at x", "make it at least 0.8 mm, 1.2 mm as it is drawn now", "thicken"}},
			{rescale.Clearances, plan.Note, "", []string{"dorsal-hatch has 0.4 mm on each side", "0.27 mm at 1:47.98: sliding, and was loose"}},
			{rescale.Clearances, plan.Caution, "dorsal-hatch", []string{"0.2 mm on each side along x", "0.13 mm", "tight, and was sliding", "keep the gap"}},
			{rescale.Texts, plan.Note, "", []string{"if 1:48 is meant"}},
		}},
		{"m14-hull-enlarged", []want{
			{plan.Printing, plan.Fault, "hull-port-fore", []string{"fits a printer now and none at 1:20", "360 x 48 x 120 mm", "desk-filament", "split it"}},
			{rescale.Seating, plan.Caution, "magnet-hatch.1", []string{"sits loose", "8.38 mm", "takes 5 mm"}},
		}},
	}) {
		t.Run(c.edit, func(t *testing.T) {
			rep := rescaled(t, was, demo.KitWithMeshes(), scaleOf(t, c.edit))
			for _, w := range c.wants {
				if !slices.ContainsFunc(rep.Findings, w.is) {
					t.Errorf("no finding of kind %s, a %s of %q, says %q", w.kind, w.grade, w.piece, w.says)
				}
			}
			if rep.OK() {
				t.Error("all is said to be well")
			}
			if t.Failed() {
				for _, f := range rep.Findings {
					t.Logf("%s, %s %s: %s", f.Grade, f.Kind, f.Piece, whole(f))
				}
			}
		})
	}
}

// The silent control: at its own scale the demonstration kit has neither fault nor
// caution, all is as it was, and the order is the same. At 1:24 the hull halves, 300 mm
// long, still go turned on a bed of 240 x 230 mm; all that breaks is that the snap lead, which
// sits on the battery, no longer reaches the lip of the cradle.
func nothingBreaks(t *testing.T, was *plan.Project) {
	same := rescaled(t, was, demo.KitWithMeshes(), "1:32")
	for _, f := range same.Findings {
		if f.Grade != plan.Note {
			t.Errorf("at the same scale: %s, %s: %s", f.Grade, f.Kind, whole(f))
		}
	}
	for _, p := range same.Parts {
		if p.Was != p.Now {
			t.Errorf("%s is %v and was %v", p.Of.ID, p.Now, p.Was)
		}
	}
	larger := rescaled(t, was, demo.KitWithMeshes(), "1:24")
	if !same.OK() || !slices.Equal(same.Now.Sequence.Order, was.Sequence.Order) {
		t.Errorf("at %s: %s", same.Scaling, same.Order())
	}
	for _, f := range larger.Findings {
		if f.Grade == plan.Fault && (f.Piece != "snap-lead" || f.Kind != plan.Meshes) {
			t.Errorf("at 1:24: %s, %s: %s", f.Grade, f.Kind, whole(f))
		}
	}
	if !slices.ContainsFunc(larger.Findings, want{plan.Meshes, plan.Fault, "snap-lead", []string{"does not touch battery-cradle"}}.is) {
		t.Error("nothing says that the lead on the battery no longer reaches the lip of its cradle")
	}
	turned := want{plan.Printing, plan.Note, "", []string{"only turned or tilted at 1:24", "hull-port-fore (turned)"}}
	if !slices.ContainsFunc(larger.Findings, turned.is) {
		t.Error("nothing says that the hull halves go turned only")
	}
	a, before, _, _ := same.Mass()
	b, same2, _, _ := larger.Mass()
	// Walls of filled parts keep their thickness, so it is less than the cube.
	if cube := 64.0 / 27; a != before || a != same2 || b > 0.99*cube*a || b < 0.9*cube*a {
		t.Errorf("%g g become %g, and the cube is %g times as much", a, b, cube)
	}
	if x := larger.Ballast; math.Abs(x.Now.Needed-235) > 15 || x.Now.Stated != 130 || math.Abs(x.Was.Needed-125) > 5 {
		t.Errorf("ballast: %.0f g needed, %.0f g stated; %.0f g before", x.Now.Needed, x.Now.Stated, x.Was.Needed)
	}
}

func (w want) is(f plan.Finding) bool {
	if f.Kind != w.kind || f.Grade != w.grade || w.piece != "" && f.Piece != w.piece {
		return false
	}
	text := whole(f)
	return !slices.ContainsFunc(w.says, func(s string) bool { return !strings.Contains(text, s) })
}

// whole is all that a finding says.
func whole(f plan.Finding) string {
	text := f.Text
	for _, b := range f.Because {
		text += "; because " + b.Text
	}
	for _, r := range f.Repairs {
		text += "; repair: " + r.Text
	}
	return text
}

// scaleOf reads the scale of a mistake.
func scaleOf(t *testing.T, edit string) string {
	t.Helper()
	_, scale, found := strings.Cut(kitstest.MistakeFile(t, edit), "\n> ")
	if !found {
		t.Fatalf("%s names no scale", edit)
	}
	return strings.TrimSpace(scale)
}

// rescaled makes a report of a kit whose text is given.
func rescaled(t *testing.T, was *plan.Project, text []byte, scale string) *rescale.Report {
	t.Helper()
	s, err := kits.ParseScaling(scale, was.Kit.Scale)
	if err != nil {
		t.Fatal(err)
	}
	kit, err := kits.ReadScaled(was.Kit.File, text, s)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := rescale.Make(context.Background(), rescale.Request{Was: was, Kit: kit, Scaling: s})
	if err != nil {
		t.Fatal(err)
	}
	return rep
}
