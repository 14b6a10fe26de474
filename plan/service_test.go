package plan_test

import (
	"strings"
	"testing"

	"dryfit/plan"
)

// A battery behind a panel, with one thing changed in each case.
const torch = `
kit: Torch
clearance: 1
parts:
  body: {}
  cap: {}
  panel: {}
  disc: {}
  plate: {}
  battery: {size: [20, 10, 8]}
joins:
  - {fit: battery, to: body, with: loose}
  - {fit: cap, to: body, with: ca}
  - {fit: panel, to: [body, cap], with: magnet}
  - {fit: disc, to: panel, with: ca}
  - {fit: plate, to: cap, with: ca, after: panel}
spaces:
  bay: {closed-by: [body, cap, {piece: panel, opening: [21, 11], facing: z, name: slot}], holds: [battery]}
service:
  - {reach: battery, by-opening: panel}
`

func TestService(t *testing.T) {
	for _, c := range []struct {
		name, old, now string
		grade          plan.Grade // empty: no finding
		text, repair   string
	}{
		{name: "held by a magnet, with the magnet glued into the panel"},
		{name: "by the name of the opening", old: "by-opening: panel", now: "by-opening: slot"},
		{name: "by any opening", old: ", by-opening: panel", now: ""},
		{"glued panel", "with: magnet", "with: ca", plan.Fault, "no way into bay can be opened again", "make fitting panel a join that opens"},
		{"panel glued though its fixing opens", "with: magnet", "with: magnet, opens: false", plan.Fault, "no way into bay", "make fitting panel a join that opens"},
		{"plate glued across the gap", "plate, to: cap", "plate, to: [cap, panel]", plan.Fault, "no way into bay can be opened again", "fit plate to cap alone"},
		{"plate that opens across the gap", "plate, to: cap, with: ca", "plate, to: [cap, panel], with: screw", "", "", ""},
		{"opening too small to go straight", "opening: [21, 11]", "opening: [20, 11]", plan.Caution, "only by turning", "enlarge the opening slot at"},
		{"opening too small", "opening: [21, 11]", "opening: [9, 8]", plan.Fault, "no way into bay can be opened again that lets it pass", "enlarge the opening slot at"},
		{"strap over the battery", "battery, to: body, with: loose", "battery, to: [body, cap], with: loose", "", "", ""},
		{"strap glued over the battery", "  - {fit: disc, to: panel, with: ca}", "  - {fit: disc, to: [battery, body], with: ca}", plan.Fault, "disc is fixed across it", "make fitting disc a join that opens"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(torch, c.old, c.now, 1)
			if c.old != "" && text == torch {
				t.Fatalf("%q is not in the kit", c.old)
			}
			rep := checked(t, text)
			f := find(rep.Findings, plan.Serviceable, "battery")
			switch {
			case c.grade == "" && f != nil:
				t.Errorf("want no finding, got\n%s", listed(rep.Findings))
			case c.grade != "" && f == nil:
				t.Errorf("want a finding, got\n%s", listed(rep.Findings))
			case c.grade != "" && (f.Grade != c.grade || !strings.Contains(f.Text, c.text) || !anyRepair(f.Repairs, c.repair)):
				t.Errorf("want %s, %q, a repair with %q; got\n%s", c.grade, c.text, c.repair, listed([]plan.Finding{*f}))
			}
		})
	}
}

// Cases that a modeller would try, and what must be found.
func TestFindings(t *testing.T) {
	for _, c := range []struct {
		name, text  string
		kind, piece string // empty kind: no finding at all
		want        string
	}{
		{"option left out", `{parts: {box: {}, lid: {}, flag: {class: option}}, joins: [{fit: lid, to: box}]}`, "", "", ""},
		{"option in the model", `{parts: {box: {}, flag: {class: option}}, joins: [{fit: flag, to: box}]}`, "", "", ""},
		{"loose piece", `{parts: {box: {}, lid: {}, flag: {}}, joins: [{fit: lid, to: box}]}`, plan.Loose, "flag", "tied to nothing"},
		{"loose group", `{parts: {box: {}, lid: {}, a: {}, b: {}, c: {}}, joins: [{fit: lid, to: box}, {fit: c, to: box}, {fit: a, to: b}]}`, plan.Loose, "a", "a and b are tied to nothing"},
		{"cycle of two", `{parts: {box: {}, a: {}, b: {}}, joins: [{fit: a, to: box, after: b}, {fit: b, to: box, after: a}]}`, plan.Cycle, "", "fitting a and fitting b wait for one another"},
		{"after itself", `{parts: {box: {}, a: {}}, joins: [{fit: a, to: box, after: a}]}`, plan.Cycle, "", "fitting a waits for itself"},
		{"sits on the only closer", `{parts: {box: {}, lid: {}, a: {}}, joins: [{fit: a, to: lid}, {fit: lid, to: box, bench: true}], spaces: {s: {closed-by: [lid], holds: a}}}`,
			plan.Trapped, "a", "it sits on what closes s, and nothing else is listed as closing it"},
		{"sits on one closer of two", `{parts: {box: {}, lid: {}, a: {}}, joins: [{fit: a, to: lid}, {fit: lid, to: box, bench: true}], spaces: {s: {closed-by: [box, lid], holds: a}}}`, "", "", ""},
		{"opened again", `{parts: {box: {}, lid: {}, a: {}}, joins: [{fit: a, to: box, after: lid}, {fit: lid, to: box, with: magnet}], spaces: {s: {closed-by: [box, lid], holds: a}}}`,
			plan.Reopened, "a", "to fit a, fitting lid must be undone"},
		{"a loose piece inside opens nothing", `{parts: {left: {}, right: {}, cradle: {}, cell: {}, fuse: {}}, joins: [{fit: cradle, to: left}, {fit: cell, to: cradle, with: loose}, {fit: fuse, to: cell, after: shut}, {close: [left, right], step: shut, after: cell}], spaces: {bay: {closed-by: [left, right], holds: [cradle, cell, fuse]}}}`,
			plan.Trapped, "fuse", "each way into bay is shut"},
		{"held base", `{parts: {box: {}, lid: {}, a: {}}, joins: [{close: [a, box]}, {fit: lid, to: box}], spaces: {s: {closed-by: [box, lid], holds: a}}}`, plan.Unchecked, "a", "no step fits it"},
		{"no coat", `{parts: {box: {}, lid: {paint: off-model}}, joins: [{fit: lid, to: box}]}`, plan.Uncoated, "lid", "add a task with coat: outside"},
		{"copies are told once", `{parts: {box: {}, lid: {}, a: {quantity: 3, size: [5, 5, 5]}}, joins: [{fit: a, to: box}, {fit: lid, to: box}], spaces: {s: {closed-by: [{piece: lid, opening: [2, 2]}], holds: a}}}`, plan.Unreachable, "a.3", "a (several copies) cannot reach"},
		{"too wide a wire", `{parts: {box: {}, lid: {}}, joins: [{fit: lid, to: box}], wires: [{wire: w, from: box, to: lid, across: 3, hole: 2}]}`, plan.WireEnd, "", "it is 3 mm across and a hole of its run is 2 mm"},
		{"one wide end", `{parts: {box: {}, lid: {size: [9, 9, 9]}}, joins: [{fit: lid, to: box}], wires: [{wire: w, from: box, to: lid, across: 1, hole: 2}]}`, plan.WireEnd, "lid", "must be threaded before its end lid is put on"},
		{"wire into a shut space", `{parts: {box: {}, lid: {}}, joins: [{fit: lid, to: box, step: shut}], spaces: {s: {closed-by: [box, lid]}}, wires: [{wire: w, from: box, to: lid, runs-in: s}]}`,
			plan.Trapped, "w", "each way into s is shut"},
		{"unit too large for the opening", `{parts: {box: {}, lid: {}, a: {size: [5, 5, 5]}}, joins: [{fit: a, to: box, bench: true, size: [50, 50, 50]}, {fit: lid, to: box}], spaces: {s: {closed-by: [{piece: lid, opening: [9, 9]}], holds: a}}}`,
			plan.Unreachable, "a", "at 50 x 50 x 50 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rep := checked(t, "{kit: Case, "+c.text[1:])
			if c.kind == "" {
				if len(rep.Findings) > 0 {
					t.Errorf("want no finding, got\n%s", listed(rep.Findings))
				}
				return
			}
			f := find(rep.Findings, c.kind, c.piece)
			if f == nil || !strings.Contains(f.Text, c.want) {
				t.Errorf("want %s with %q, got\n%s", c.kind, c.want, listed(rep.Findings))
			}
		})
	}
}

// A repair can be applied as it is printed, in the unit of the file.
func TestRepairsApplyAsPrinted(t *testing.T) {
	for unit, sizes := range map[string][2]string{"mm": {"10.003", "9"}, "cm": {"1.0003", "0.9"}, "in": {"0.3333", "0.3"}} {
		text := "kit: Box\nunits: " + unit + "\nparts: {box: {}, lid: {}, a: {size: [" + sizes[0] + ", " + sizes[0] + ", " + sizes[0] + "]}}\n" +
			"joins: [{fit: a, to: box}, {fit: lid, to: box}]\nspaces: {s: {closed-by: [box, {piece: lid, opening: [OPENING], facing: z}], holds: a}}\n" +
			"service: [{reach: a, by-opening: lid}]\n"
		text = strings.Replace(text, "fit: lid, to: box", "fit: lid, to: box, with: magnet", 1)
		rep := checked(t, strings.Replace(text, "OPENING", sizes[1]+", "+sizes[1], 1))
		f := find(rep.Findings, plan.Serviceable, "a")
		if f == nil || len(f.Repairs) == 0 {
			t.Fatalf("%s: no repair in\n%s", unit, listed(rep.Findings))
		}
		_, to, _ := strings.Cut(f.Repairs[0].Text, "at least ")
		to, _, _ = strings.Cut(to, " "+unit+" ")
		again := checked(t, strings.Replace(text, "OPENING", strings.Replace(to, " x ", ", ", 1), 1))
		if len(again.Findings) > 0 {
			t.Errorf("%s: after %q there is still\n%s", unit, f.Repairs[0].Text, listed(again.Findings))
		}
	}
}

// A lamp in a void that two glued pieces seal, and a battery outside that is held loosely:
// the wire is shut out whichever of its ends is named first, since the battery's own join
// opens nothing of the void. That the void holds the lamp says where the wire runs.
func TestWireIsJudgedFromInside(t *testing.T) {
	for _, ends := range []string{"from: battery, to: lamp, runs-in: [void]", "from: lamp, to: battery, runs-in: [void]", "from: battery, to: lamp", "from: lamp, to: battery"} {
		rep := checked(t, `kit: Void
parts: {shell: {}, cap: {}, lamp: {}, battery: {}}
joins:
  - {fit: lamp, to: shell, with: ca}
  - {fit: battery, to: shell, with: loose}
  - {fit: cap, to: shell, with: epoxy, step: sealing}
spaces: {void: {closed-by: [cap], holds: lamp}}
wires:
  - {wire: lead, `+ends+`, after: sealing}
`)
		if find(rep.Findings, plan.Trapped, "lead") == nil {
			t.Errorf("%s: the wire is not trapped:\n%s", ends, listed(rep.Findings))
		}
	}
}
