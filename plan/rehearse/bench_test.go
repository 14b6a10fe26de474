package rehearse_test

import (
	"context"
	"testing"

	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
	"dryfit/plan/rehearse"
)

// The demonstration kit with its meshes, replayed.
func BenchmarkDemonstrationKit(b *testing.B) {
	dir, err := projecttest.Folder()
	if err != nil {
		b.Fatal(err)
	}
	p, err := project.Load(context.Background(), dir, project.Options{})
	if err != nil {
		b.Fatal(err)
	}
	list := rehearse.Actions(p.Sequence.Order)
	for b.Loop() {
		if r := rehearse.Walk(p.Kit, p.Constraints.Geometry, p.Constraints.Steps, list); !r.OK() {
			b.Fatalf("%+v", r.Failure)
		}
	}
}
