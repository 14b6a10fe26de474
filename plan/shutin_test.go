package plan_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/plan"
)

// A cowling that is fitted to the engine itself keeps it out of nowhere, and shuts it in.
const (
	cowlingKit = `parts: {wing: {}, engine: {paint: before-close}, cowling: {}}
joins:
  - {fit: engine, to: wing, with: ca, step: engine-on}
  - {fit: cowling, to: engine, with: ca, step: cowling-on}
service:
  - {reach: engine}
`
	nacelle     = "spaces:\n  nacelle: {closed-by: [cowling], holds: [engine]}\n"
	cowlingWays = `engine +x +y -y +z -z: cowling
engine -x: wing`
)

func TestServiceUnderACowling(t *testing.T) {
	glued := "kit: Test\n" + cowlingKit + nacelle
	const opens = "make cowling-on a join that opens"
	wantFinding(t, checked(t, glued), plan.Serviceable, plan.Fault, "engine", "no way into nacelle can be opened again", "cowling stays shut: cowling-on does not open", opens)
	wantFinding(t, setUp(t, cowlingKit, cowlingWays).check(t), plan.Serviceable, plan.Fault, "engine", "cowling is in its way and does not come off", "cowling-on does not open", opens)
	wantNoFinding(t, setUp(t, strings.Replace(cowlingKit, "ca, step: cowling-on", "magnet, step: cowling-on", 1), cowlingWays).check(t))
	// An engine that opens comes out with its cowling on.
	wantNoFinding(t, setUp(t, strings.Replace(cowlingKit, "ca, step: engine-on", "screw, step: engine-on", 1), cowlingWays).check(t))
}

func TestLastCallUnderACowling(t *testing.T) {
	open := strings.Split(cowlingKit, "service:")[0]
	if got := remindersOf(checked(t, "kit: Test\n"+open+nacelle), "cowling-on"); !slices.Equal(got, []string{"nacelle: engine is painted and in"}) {
		t.Errorf("last calls %v", got)
	}
	held := checked(t, strings.Replace("kit: Test\n"+open+nacelle, "ca, step: cowling-on", "magnet, step: cowling-on", 1)).Sequence
	if got := held.PaintInside(1); !slices.Equal(got, []int{1}) || len(held.LastCall(1)) > 0 {
		t.Errorf("on magnets: painted inside %v, last calls %v", got, held.LastCall(1))
	}
}

// What is painted before closing is recalled where meshes alone show the closing.
func TestPaintByMeshes(t *testing.T) {
	const ways = "gem +x -x +y -y -z: tube\ngem +z: hatch"
	text := "parts: {tube: {}, gem: {paint: before-close}, hatch: {}}\njoins:\n  - {fit: gem, to: tube, with: ca}\n  - {fit: hatch, to: tube, with: ca, step: hatch-on}\n"
	if got := remindersOf(setUp(t, text, ways).check(t), "hatch-on"); !slices.Equal(got, []string{"gem is painted and in"}) {
		t.Errorf("glued: last calls %v", got)
	}
	q := setUp(t, strings.Replace(text, "ca, step", "magnet, step", 1), ways).check(t).Sequence
	if got := q.PaintInside(1); !slices.Equal(got, []int{1}) {
		t.Errorf("on magnets: painted inside %v", got)
	}
}

// The paint of what a roof is taken off for is recalled when that goes in, not before.
func TestPaintOfWhatComesLater(t *testing.T) {
	q := checked(t, `
kit: Test
parts: {floor: {}, roof: {}, gem: {paint: before-close}}
joins:
  - {fit: roof, to: floor, with: magnet}
  - {fit: gem, to: floor, with: ca, after: roof}
spaces:
  room: {closed-by: [floor, roof], holds: [gem]}
`).Sequence
	if roof, gem := q.PaintInside(0), q.PaintInside(1); len(roof) > 0 || !slices.Equal(gem, []int{2}) {
		t.Errorf("painted inside %v at the roof, %v at the gem", roof, gem)
	}
}

// An item does not count as reached by a lid that comes off only once the item is out.
func TestServiceByALidThatTheItemKeepsOn(t *testing.T) {
	text := `
kit: Test
parts: {box: {}, lid: {}, battery: {}, hatch: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: battery, to: box, with: loose}
  - {fit: hatch, to: box, with: screw}
spaces:
  room: {closed-by: [lid, hatch], holds: [battery]}
  attic: {closed-by: [battery], holds: [lid]}
service:
  - {reach: battery, by-opening: lid}
`
	wantFinding(t, checked(t, text), plan.Serviceable, plan.Fault, "battery", "no way into room can be opened again", "lid stays shut: fitting lid opens, but is itself shut in", "")
	if f := find(checked(t, strings.Replace(text, "by-opening: lid", "by-opening: hatch", 1)).Findings, plan.Serviceable, "battery"); f != nil {
		t.Errorf("by the hatch: %+v", f)
	}
}

// A lid that opens and is shut in itself is freed by opening what shuts it in.
func TestServiceUnderALidThatIsShutIn(t *testing.T) {
	wantFinding(t, checked(t, `
kit: Test
parts: {box: {}, battery: {}, lid: {}, outer: {}}
joins:
  - {fit: battery, to: box, with: loose}
  - {fit: lid, to: box, with: magnet}
  - {fit: outer, to: box, with: ca}
spaces:
  attic: {closed-by: [outer], holds: [lid]}
  room: {closed-by: [lid], holds: [battery]}
service:
  - {reach: battery}
`), plan.Serviceable, plan.Fault, "battery", "no way into room can be opened again", "fitting lid opens, but is itself shut in", "make fitting outer a join that opens")
}

// What a wire is threaded through has to be in place: a lid is not off meanwhile.
func TestWireThroughALid(t *testing.T) {
	text := `
kit: Test
parts: {box: {}, lid: {}, battery: {}, lamp: {}}
joins:
  - {fit: battery, to: box, with: ca}
  - {fit: lid, to: box, with: screw}
  - {fit: lamp, to: lid, with: ca}
spaces:
  room: {closed-by: [lid], holds: [battery]}
wires:
  - {wire: w, from: battery, to: lamp, across: 2, through: [box, lid]}
`
	wantFinding(t, checked(t, text), plan.Trapped, plan.Fault, "w", "cannot be threaded in any order", "w ties battery, lamp, box and lid together", "if the holes on its run stay open, say so")
	if rep := checked(t, strings.Replace(text, ", through: [box, lid]", "", 1)); !rep.OK() {
		t.Errorf("with slack at its ends: %+v", rep.Findings)
	}
}

// remindersOf lists the last calls of a named step as they are worded.
func remindersOf(rep *plan.Project, step string) []string {
	var list []string
	for v := range rep.Constraints.Steps {
		if rep.Constraints.Name(v) == step {
			for _, r := range rep.Sequence.Reminders(v) {
				list = append(list, r.Text)
			}
		}
	}
	return list
}
