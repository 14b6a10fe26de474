package testprints_test

import (
	"testing"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/plantest"
	"dryfit/plan/testprints"
)

// The last test print decides, for the mesh that it was printed from.
func TestState(t *testing.T) {
	p := plantest.Check(t, "kit: K\nparts: {box: {printed: resin}, pin: {printed: resin, quantity: 2}, jig: {printed: resin, class: tooling}}\njoins: [{fit: pin, to: box}]\n")
	shape := func(edge float64) *mesh.Mesh {
		m, err := mesh.FromTriangles("", meshtest.Box([3]float64{}, [3]float64{edge, edge, edge}))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	now, before := shape(2), shape(3)
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"pin.2": now, "jig": now}, nil)
	test := func(part, result string, m *mesh.Mesh) *progress.Test {
		one := &progress.Test{Part: kits.Ref{Name: part}, Result: result}
		if m != nil {
			one.Mesh = m.Hash.String()
		}
		return one
	}
	for _, c := range []struct {
		part  string
		tests []*progress.Test
		want  testprints.State
	}{
		{"pin", nil, testprints.Untested},
		{"pin", []*progress.Test{test("box", "ok", now)}, testprints.Untested},
		{"pin", []*progress.Test{test("pin", "ok", now)}, testprints.Good},
		{"pin", []*progress.Test{test("pin", "ok", now), test("pin", "warped", now)}, testprints.Bad},
		{"pin", []*progress.Test{test("pin", "failed", now), test("pin", "ok", now)}, testprints.Good},
		{"pin", []*progress.Test{test("pin", "ok", before)}, testprints.Changed},
		{"pin", []*progress.Test{test("pin", "ok", nil)}, testprints.Changed},
		{"jig", []*progress.Test{test("jig", "ok", now)}, testprints.Good},
		{"box", []*progress.Test{test("box", "ok", nil)}, testprints.Good},
		{"box", []*progress.Test{test("box", "ok", now)}, testprints.Changed},
	} {
		p.Progress = &progress.File{Tests: c.tests}
		if got := testprints.Of(p).State(part(p, c.part)); got != c.want {
			t.Errorf("%s with %d tests is %s, want %s", c.part, len(c.tests), got, c.want)
		}
	}
	p.Progress = nil
	if got := testprints.Of(p).State(part(p, "pin")); got != testprints.Untested {
		t.Errorf("without a log it is %s", got)
	}
}

func part(p *plan.Project, id string) *kits.Part {
	for _, one := range p.Kit.Parts {
		if one.ID == id {
			return one
		}
	}
	return nil
}
