package plan_test

import (
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/plan"
	"dryfit/plan/hardware"
	"dryfit/plan/plantest"
)

// checked reads and checks the text of a kit that can be read, its ballast, lights and
// magnets as well.
func checked(t testing.TB, text string) *plan.Project {
	t.Helper()
	rep := plantest.Check(t, text)
	rep.Add(hardware.Findings(rep)...)
	return rep
}

func demoReport(t testing.TB) *plan.Project { return checked(t, string(demo.Kit)) }

// stepAndPieces lists the names by which a step goes: its own and the ids of the
// pieces it fits.
func stepAndPieces(pieces []kits.Piece, j *kits.Join, w *kits.Wire, t *kits.Task) []string {
	switch {
	case w != nil:
		return []string{w.ID}
	case t != nil:
		return []string{t.Step}
	}
	var names []string
	if j.Step != "" {
		names = append(names, j.Step)
	}
	if !j.IsClose() {
		for _, p := range j.Pieces {
			names = append(names, pieces[p].ID)
		}
	}
	return names
}
