package release

import (
	"testing"

	"dryfit/kits/progress"
	"dryfit/plan"
)

// A builder gets the designer's test prints, and nothing of his own progress.
func TestUnstarted(t *testing.T) {
	kept := &progress.File{Name: "kit.progress.yaml", Pieces: []*progress.Entry{{}}, Plates: []progress.Plate{{}}, Tests: []*progress.Test{{Note: "nose down"}}}
	k := &Pack{p: &plan.Project{Progress: kept}}
	got := k.unstarted().Progress
	if got == nil || len(got.Tests) != 1 || got.Tests[0].Note != "nose down" || got.Name != "" || got.Pieces != nil || got.Plates != nil {
		t.Errorf("%+v", got)
	}
	if k.p.Progress != kept || len(kept.Plates) != 1 {
		t.Error("the designer's own has changed")
	}
	if got := (&Pack{p: &plan.Project{}}).unstarted().Progress; got != nil {
		t.Errorf("%+v", got)
	}
}
