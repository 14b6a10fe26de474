package project_test

import (
	"context"
	"testing"

	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
)

// TestDemo: the demonstration kit has no finding with its meshes, and the order is the
// one without them.
func TestDemo(t *testing.T) {
	rep, err := project.Load(context.Background(), projecttest.Copy(t), project.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rep.Findings {
		t.Errorf("%s, %s: %s", f.Grade, f.Kind, f.Text)
	}
	for i := range rep.Constraints.Access {
		if a := &rep.Constraints.Access[i]; a.Space == nil && rep.Constraints.Route(i) == nil {
			t.Errorf("%s has no route", rep.Kit.Pieces[a.Piece].ID)
		}
	}
}
