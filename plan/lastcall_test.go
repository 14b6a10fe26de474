package plan_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/plan"
	"dryfit/plan/explain"
)

// A lid that is fitted, not closed, shuts a gem in by the meshes alone: its step has the
// last call for the gem, and why says the same of the gem.
func TestLastCallByMeshes(t *testing.T) {
	text := `parts: {box: {}, gem: {}, lid: {}}
joins:
  - {fit: gem, to: box, with: ca}
  - {fit: lid, to: box, with: ca, step: lidding}
`
	ways := "gem +x -x +y -y -z: box\ngem +z: lid\nlid +x -x +y -y -z: box"
	rep := setUp(t, text, ways).check(t)
	wantOrder(t, rep, "gem", "lid")
	if got := ticksOf(rep, "lidding"); !slices.Equal(got, []string{"lidding/fit/gem"}) {
		t.Errorf("before the lid: %v", got)
	}
	list, err := explain.Ask(rep, "gem")
	if err != nil || len(list) != 1 || len(list[0].LastCall) != 1 || !strings.Contains(list[0].LastCall[0], "lidding") {
		t.Errorf("why gem: %+v, %v", list, err)
	}
	// A lid that opens shuts nothing in for good.
	rep = setUp(t, strings.Replace(text, "with: ca, step", "with: magnet, step", 1), ways).check(t)
	if got := ticksOf(rep, "lidding"); len(got) > 0 {
		t.Errorf("before a lid that opens: %v", got)
	}
}

// ticksOf lists the ticks of the last call of a named step.
func ticksOf(rep *plan.Project, step string) []string {
	var list []string
	for v := range rep.Constraints.Steps {
		if rep.Constraints.Name(v) != step {
			continue
		}
		for _, r := range rep.Sequence.Reminders(v) {
			list = append(list, r.Tick.String())
		}
	}
	return list
}
