package plan_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/plan"
)

// Copies that are late for the same reason are told of once, by their part.
func TestLatePartsNotCopies(t *testing.T) {
	p := checked(t, `kit: Hall
parts: {floor: {}, bench: {quantity: 8}, roof: {}}
joins:
  - {fit: bench, to: floor, with: ca, after: roof}
  - {fit: roof, to: floor, with: ca}
spaces:
  hall: {closed-by: [roof], holds: bench}
`)
	wantFinding(t, p, plan.Trapped, plan.Fault, "bench.1", "bench (8 copies) cannot be fitted in any order: each way into hall is shut", "bench is asked to come after roof", `drop "roof" from after`)
	if p.Count(plan.Fault) != 1 || strings.Contains(p.Findings[0].Text, "caught with it") {
		t.Errorf("findings:\n%s", listed(p.Findings))
	}
}

// A ring of needs through a wire and a task is a cycle, though what hangs on it is in a
// space that is shut.
func TestRingThroughAWireAndATask(t *testing.T) {
	p := checked(t, `kit: Box
parts: {box: {}, lamp: {}, battery: {}, lid: {}}
joins:
  - {fit: lamp, to: box, with: ca}
  - {fit: battery, to: box, with: ca}
  - {fit: lid, to: box, with: ca}
spaces:
  room: {closed-by: [lid], holds: [lamp, battery]}
wires:
  - {wire: lead, from: battery, to: lamp, after: test}
tasks:
  - {do: Test the lights, step: test, after: lead, before: lid}
`)
	wantFinding(t, p, plan.Cycle, plan.Fault, "", "lead and test wait for one another", "test is asked to come after lead", `drop "test" from after`)
	if p.Count(plan.Fault) != 1 {
		t.Errorf("findings:\n%s", listed(p.Findings))
	}
}

// No repair fits a piece to one that it neither sits on nor shares a space with, and none
// that is offered brings a fault of its own.
func TestRepairsMakeSense(t *testing.T) {
	p := checked(t, `kit: Boat
parts: {hull: {}, saloon: {}, lamp: {}, deck: {}, mast: {}, finial: {}}
joins:
  - {fit: saloon, to: hull, with: ca}
  - {fit: lamp, to: saloon, with: ca, after: deck}
  - {fit: deck, to: hull, with: ca}
  - {fit: mast, to: deck, with: ca}
  - {fit: finial, to: mast, with: ca}
spaces:
  cabin: {closed-by: [deck], holds: [saloon, lamp]}
`)
	f := find(p.Findings, plan.Trapped, "lamp")
	if f == nil {
		t.Fatalf("findings:\n%s", listed(p.Findings))
	}
	far := func(r plan.Repair) bool {
		return strings.Contains(r.Text, "to mast") || strings.Contains(r.Text, "to finial") || strings.Contains(r.Text, "finial")
	}
	if len(f.Repairs) == 0 || slices.ContainsFunc(f.Repairs, far) || !anyRepair(f.Repairs, `drop "deck" from after`) {
		t.Errorf("repairs: %+v", f.Repairs)
	}
}
