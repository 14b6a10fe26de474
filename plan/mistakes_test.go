package plan_test

import (
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan"
)

// Each mistake of the demonstration scenario that a kit file can express: the edit
// in testdata/mistakes, the finding it must give, and a repair that must be offered.
var mistakes = []struct {
	edit    string
	kind    string
	grade   plan.Grade
	piece   string // of the finding, or one of its pieces
	text    string // part of the finding
	because string // part of one reason
	repair  string // part of one repair
}{
	{edit: "m01-ballast-late", kind: plan.Trapped, grade: plan.Fault, piece: "ballast-tray",
		text: "each way into bow is shut", because: "asked to come after hull-seams", repair: `drop "hull-seams"`},
	{edit: "m02-stretcher-late", kind: plan.Turning, grade: plan.Caution, piece: "stretcher-rack",
		text: "only by turning", because: "asked to come after bottom-seam", repair: `drop "bottom-seam"`},
	{edit: "m03-bulkhead-on-floor", kind: plan.Cycle, grade: plan.Fault,
		text: "hull-closing, floor-closing, lead-cockpit and light-test wait for one another", because: "light-test is asked to come before hull-closing", repair: "fit bulkhead-cabin to hull-port-fore instead of floor"},
	{edit: "m04-plug-on-harness", kind: plan.WireEnd, grade: plan.Fault, piece: "resistor-tray",
		text: "neither passes a hole", because: "narrowest hole on its run is 4 mm", repair: "bare: true"},
	{edit: "m06-magnets-repel", kind: plan.Magnets, grade: plan.Fault, piece: "magnet-hatch.3",
		text: "magnet-hatch and magnet-hatch-ring repel: like poles face each other in all 4 pairs", because: "the north of magnet-hatch points toward -z", repair: "turn the 4 of magnet-hatch in dorsal-hatch: north: [0, 0, 1]"},
	{edit: "m08-lining-off-model", kind: plan.Cycle, grade: plan.Fault,
		text: "wait for one another, so none can be first", because: "lining-port is painted off the model", repair: "paint lining-port before fitting"},
	{edit: "m09-windows-late", kind: plan.Trapped, grade: plan.Fault, piece: "cabin-window.1",
		text: "each way into window-pockets-port is shut", because: "asked to come after outside-coat", repair: `drop "outside-coat"`},
	{edit: "m10-handrail-early", kind: plan.FragileIn, grade: plan.Caution, piece: "handrail-port",
		text: "fragile and outside", because: "asked to come before hull-closing", repair: `drop "hull-closing"`},
	{edit: "m11-battery-opening", kind: plan.Serviceable, grade: plan.Caution, piece: "battery",
		text: "only by turning", because: "only by turning", repair: "enlarge the opening that battery-hatch covers"},
	{edit: "m13-lamps-in-series", kind: plan.Lights, grade: plan.Fault, piece: "lamp-cabin.1",
		text: "go dark at 6.4 V, long before the supply is down to 6 V", because: "2 x 3.2 V over the lamps in series is 6.4 V", repair: "give each lamp a branch of its own, with 1200 ohm each"},
	{edit: "m16-planned-before-cure", kind: plan.Times, grade: plan.Fault,
		text: "hull-seams is planned at 63h 45m, too soon", because: "hull-closing starts at 62h and takes 45m; it must set for 24h before this", repair: "plan hull-seams at 86h 45m or later"},
	{edit: "m17-tray-too-small", kind: plan.Balances, grade: plan.Fault, piece: "shot",
		text: "130 g take 28.3 cm3, and there is room for 21.4 cm3", because: "42 x 30 x 17 mm inside", repair: "make it at least 42 x 30 x 22.5 mm inside"},
}

func TestMistakes(t *testing.T) {
	for _, m := range mistakes {
		t.Run(m.edit, func(t *testing.T) {
			rep := checked(t, edited(t, m.edit))
			f := find(rep.Findings, m.kind, m.piece)
			if f == nil {
				t.Fatalf("no finding of kind %s for %q among\n%s", m.kind, m.piece, listed(rep.Findings))
			}
			if f.Grade != m.grade || !strings.Contains(f.Text, m.text) || !anyReason(f.Because, m.because) || !anyRepair(f.Repairs, m.repair) {
				t.Errorf("want %s, text with %q, a reason with %q, a repair with %q; got\n%s", m.grade, m.text, m.because, m.repair, listed([]plan.Finding{*f}))
			}
			if want := m.grade != plan.Fault; rep.OK() != want {
				t.Errorf("OK is %v, want %v:\n%s", rep.OK(), want, listed(rep.Findings))
			}
		})
	}
}

// Mistakes that the reader already finds.
func TestMistakesOfTheFile(t *testing.T) {
	for edit, want := range map[string]string{
		"m07-mirror-by-quantity": `pair: no part is called "wing-upper-starboard"`,
		"m15-window-count":       `cabin-window has quantity 5, so there is no cabin-window.6`,
	} {
		t.Run(edit, func(t *testing.T) {
			_, err := kits.Read("kit.yaml", []byte(edited(t, edit)))
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("want an error with %q, got %v", want, err)
			}
		})
	}
}

// The silent control: the kit as it is has no finding at all.
func TestDemonstrationKitHasNoFinding(t *testing.T) {
	rep := demoReport(t)
	if len(rep.Findings) > 0 {
		t.Errorf("findings:\n%s", listed(rep.Findings))
	}
	if rep.Sequence == nil {
		t.Error("no sequence")
	}
}

// edited is the demonstration kit with a mistake.
func edited(t *testing.T, name string) string {
	t.Helper()
	return kitstest.Mistake(t, string(demo.Kit), name)
}

func find(list []plan.Finding, kind, piece string) *plan.Finding {
	for i, f := range list {
		if f.Kind != kind {
			continue
		}
		if piece == "" || f.Piece == piece || strings.Contains(" "+strings.Join(f.Pieces, " ")+" ", " "+piece+" ") {
			return &list[i]
		}
	}
	return nil
}

func anyReason(list []plan.Reason, text string) bool {
	for _, r := range list {
		if strings.Contains(r.Text, text) {
			return true
		}
	}
	return false
}

func anyRepair(list []plan.Repair, text string) bool {
	for _, r := range list {
		if strings.Contains(r.Text, text) {
			return true
		}
	}
	return false
}

func listed(list []plan.Finding) string {
	var b strings.Builder
	for _, f := range list {
		b.WriteString(string(f.Grade) + " " + f.Kind + " " + f.Piece + ": " + f.Text + "\n")
		for _, r := range f.Because {
			b.WriteString("   because " + r.Text + " (" + r.At + ")\n")
		}
		for _, r := range f.Repairs {
			b.WriteString("   repair  " + r.Text + "\n")
		}
	}
	return b.String()
}
