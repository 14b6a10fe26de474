package project_test

import (
	"context"
	"testing"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/rehearse"
)

// A panel in a trough, half under a shelf: it comes out by two legs only, along the trough
// and up. It stays in reach, and may go in after the shelf.
func TestFurtherWays(t *testing.T) {
	box := func(x1, x2, y1, y2, z1, z2 float64) []mesh.Triangle {
		return meshtest.Box([3]float64{x1, y1, z1}, [3]float64{x2, y2, z2})
	}
	trough := meshtest.Merge(box(-3, 63, -3, 23, -3, 0), box(-3, 0, -3, 23, 0, 10), box(60, 63, -3, 23, 0, 10), box(0, 60, -3, 0, 0, 10), box(0, 60, 20, 23, 0, 10))
	k := kitOf(t, `kit: Trough
parts: {hull: {printed: resin}, panel: {printed: resin}, shelf: {printed: resin}}
joins:
  - {fit: panel, to: hull, with: magnet}
  - {fit: shelf, to: hull, with: ca}
`, map[string][]mesh.Triangle{"hull": trough, "panel": box(0, 18, 0.5, 19.5, 0, 4), "shelf": box(0, 25, 0, 20, 6, 8)})
	ctx := context.Background()
	p, err := project.Of(ctx, k, project.Options{})
	if err != nil {
		t.Fatal(err)
	}
	late := []rehearse.Action{{Step: 1}, {Step: 0}}
	if r := rehearse.Walk(k, p.Constraints.Geometry, p.Constraints.Steps, late); r.OK() {
		t.Error("the panel has a straight way under the shelf, so the test tests nothing")
	}
	if r, err := rehearse.WalkFurther(ctx, k, p.Constraints.Geometry, p.Constraints.Steps, late); err != nil || !r.OK() {
		t.Errorf("the panel after the shelf: %+v, %v", r.Failure, err)
	}
	k.Service = []*kits.Service{{Reach: 1}}
	if p, err = project.Of(ctx, k, project.Options{}); err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Findings {
		if f.Kind == plan.Serviceable {
			t.Errorf("reaching the panel: %+v", f)
		}
	}
}
