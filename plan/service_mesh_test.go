package plan_test

import (
	"strings"
	"testing"

	"dryfit/plan"
)

// A gem in a box under a lid on magnets, with a bridge across the lid. The lid opens, but
// does not come off past the bridge; the gem does not come out past the lid.
const (
	bridgedKit = `parts: {box: {}, gem: {}, lid: {}, bridge: {}}
joins:
  - {fit: gem, to: box, with: loose}
  - {fit: lid, to: box, with: magnet}
  - {fit: bridge, to: box, with: epoxy}
service:
  - {reach: gem}
`
	bridgedWays = `gem +x -x +y -y -z: box
gem +z: lid
lid +x -x +y -y -z: box
lid +z: bridge
bridge -z: box`
)

func TestServicePastABridge(t *testing.T) {
	rep := setUp(t, bridgedKit, bridgedWays).check(t)
	wantFinding(t, rep, plan.Serviceable, plan.Fault, "gem", "lid is in its way and does not come off", "fitting lid opens, but bridge is in the way", "make fitting bridge a join that opens")
	wantNoFinding(t, setUp(t, strings.Replace(bridgedKit, "with: epoxy", "with: screw", 1), bridgedWays).check(t))
	wantNoFinding(t, setUp(t, bridgedKit, strings.Replace(bridgedWays, "lid +z: bridge\n", "", 1)).check(t))
}

// What sits on a lid comes off with it, and may be what keeps it on.
func TestServicePastWhatSitsOnALid(t *testing.T) {
	text := strings.Replace(bridgedKit, "{fit: bridge, to: box, with: epoxy}", "{fit: bridge, to: lid, with: epoxy}", 1)
	wantNoFinding(t, setUp(t, text, bridgedWays).check(t))
	hooked := strings.Replace(bridgedWays, "bridge -z: box", "bridge -z +z: box", 1)
	text = strings.Replace(text, "to: lid, with: epoxy}", "to: lid, with: epoxy, toward: [1, 0, 0]}", 1)
	wantFinding(t, setUp(t, text, hooked).check(t), plan.Serviceable, plan.Fault, "gem", "lid is in its way", "fitting lid opens, but box is in the way", "")
}

// A glued lid is reported without any space, and what is in no space and has no mesh is
// reported as unchecked.
func TestServiceWithoutASpace(t *testing.T) {
	glued := strings.Replace(bridgedKit, "with: magnet", "with: epoxy", 1)
	ways := strings.Replace(bridgedWays, "lid +z: bridge\n", "", 1)
	wantFinding(t, setUp(t, glued, ways).check(t), plan.Serviceable, plan.Fault, "gem", "lid is in its way", "fitting lid does not open", "make fitting lid a join that opens")
	f := find(checked(t, "kit: Test\n"+bridgedKit).Findings, plan.Unchecked, "gem")
	if f == nil || !strings.Contains(f.Text, "is in no space and has no mesh") {
		t.Errorf("the gem is not said to be unchecked: %+v", f)
	}
}
