package magnets_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/magnets"
)

// Two small magnets: one over the other, those that point the same way attract and
// the others repel; side by side it is the other way round; across each other they do
// neither (theory of magnetic dipoles: the force between two dipoles on one axis is proportional to
// the product of their moments, twice as strong as side by side and of the other sign).
func TestPull(t *testing.T) {
	up, down, x := [3]float64{0, 0, 1}, [3]float64{0, 0, -3}, [3]float64{2, 0, 0}
	for _, c := range []struct {
		a, b, r [3]float64
		want    float64
	}{
		{up, up, up, 2}, {up, up, down, 2}, {up, down, up, -2}, {down, down, up, 2},
		{up, up, x, -1}, {up, down, x, 1}, {up, x, up, 0}, {up, x, x, 0},
		{[3]float64{1e200, 0, 0}, [3]float64{1e-200, 0, 0}, x, 2},
	} {
		if got := magnets.Pull(c.a, c.b, c.r); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v and %v along %v: %g, want %g", c.a, c.b, c.r, got, c.want)
		}
	}
}

const text = `kit: Hatch
parts:
  hull: {printed: resin}
  hatch: {printed: resin}
  disc-hull: {bought: true, quantity: 2, size: [5, 5, 2]}
  disc-hatch: {bought: true, quantity: 2, size: [5, 5, 2]}
joins:
  - {fit: disc-hull, to: hull, with: epoxy}
  - {fit: disc-hatch, to: hatch, with: epoxy}
  - {fit: hatch, to: hull, with: magnet, bench: true}
magnets:
  - {magnet: disc-hatch, north: [0, 0, 1], mates: disc-hull, pocket: [5.2, 2.2]}
  - {magnet: disc-hull, north: [0, 0, 1]}
`

func read(t *testing.T, old, now string) *kits.Kit {
	t.Helper()
	return kitstest.Read(t, kitstest.Replace(t, text, old, now))
}

func project(k *kits.Kit, from *mesh.Collection) *plan.Project {
	return &plan.Project{Kit: k, Meshes: from}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		old, now, text, repair string
		grade                  plan.Grade
	}{
		{"disc-hatch, north: [0, 0, 1]", "disc-hatch, north: [0, 0, -1]", "repel: like poles face each other in all 2 pairs", "turn the 2 of disc-hatch in hatch: north: [0, 0, 1], at kit.yaml:12:5", plan.Fault},
		{"disc-hatch, north: [0, 0, 1]", "disc-hatch, north: [1, 0, 0]", "lie across each other in all 2 pairs", "north: [0, 0, 1]", plan.Fault},
		{"[5.2, 2.2]", "[3.47, 2.2]", "its pocket of 3.47 x 2.2 mm is too narrow", "5.1 to 5.2 mm across and 2.1 to 2.2 mm deep", plan.Fault},
		{"[5.2, 2.2]", "[5.05, 2.2]", "no room for glue", "5.1 to 5.2", plan.Caution},
		{"[5.2, 2.2]", "[5.4, 2.2]", "tilts or wanders", "5.1 to 5.2", plan.Caution},
		{"[5.2, 2.2]", "[5.2, 1.8]", "stands proud by 0.2 mm", "2.1 to 2.2", plan.Caution},
		{"[5.2, 2.2]", "[5.2, 2.05]", "glue under it", "2.1 to 2.2", plan.Caution},
		{"[5.2, 2.2]", "[5.2, 2.6]", "pull across the gap falls off", "2.1 to 2.2", plan.Caution},
	} {
		list := magnets.Findings(project(read(t, c.old, c.now), nil))
		if len(list) != 1 {
			t.Errorf("%s: %d findings: %v", c.now, len(list), list)
			continue
		}
		f := list[0]
		if f.Kind != plan.Magnets || f.Grade != c.grade || !strings.Contains(f.Text, c.text) || len(f.Repairs) != 1 || !strings.Contains(f.Repairs[0].Text, c.repair) {
			t.Errorf("%s: want %s, %q, repair %q; got %+v", c.now, c.grade, c.text, c.repair, f)
		}
	}
	if list := magnets.Findings(project(read(t, "kit: Hatch", "kit: Hatch"), nil)); len(list) > 0 {
		t.Errorf("nothing is wrong, yet %v", list)
	}
}

// Magnets that no entry ties to anything are found, on both sides of the gap.
func TestHoldsToNothing(t *testing.T) {
	var got []string
	for _, f := range magnets.Findings(project(read(t, "mates: disc-hull, ", ""), nil)) {
		if f.Kind != plan.Magnets || f.Grade != plan.Caution || !strings.Contains(f.Text, "nothing is said to hold to it") || len(f.Repairs) != 1 || !strings.Contains(f.Repairs[0].Text, "with mates") {
			t.Errorf("%+v", f)
		}
		got = append(got, f.Piece)
	}
	if strings.Join(got, " ") != "disc-hatch.1 disc-hull.1" {
		t.Errorf("found of %q", got)
	}
}

// The slack that a pocket may have goes from 0.1 to 0.2 mm, both included.
func TestPocketLimits(t *testing.T) {
	for _, pocket := range []string{"[5.1, 2.1]", "[5.2, 2.2]", "[5.15, 2.1]"} {
		if list := magnets.Findings(project(read(t, "[5.2, 2.2]", pocket), nil)); len(list) > 0 {
			t.Errorf("%s: %v", pocket, list)
		}
	}
}

func at(t *testing.T, x, y, z float64) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles("", meshtest.Transform(meshtest.Cylinder(2.5, -1, 1, 12), meshtest.Identity, [3]float64{x, y, z}, 1))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// With meshes, copies pair with the nearest, no matter what their numbers are,
// and where they are decides: discs beside each other repel when they point the
// same way.
func TestPairsByMeshes(t *testing.T) {
	k := read(t, "kit: Hatch", "kit: Hatch")
	over := meshtest.Collection(map[string]*mesh.Mesh{"disc-hatch.1": at(t, 0, 0, 2), "disc-hatch.2": at(t, 50, 0, 2), "disc-hull.1": at(t, 50, 0, 0), "disc-hull.2": at(t, 0, 0, 0)}, nil)
	pairs := magnets.Pairs(project(k, over))
	if len(pairs) != 2 {
		t.Fatalf("%d pairs", len(pairs))
	}
	for i, want := range []string{"disc-hull.2", "disc-hull.1"} {
		if p := pairs[i]; k.Pieces[p.B].ID != want || p.Verdict != magnets.Attract || !p.Measured {
			t.Errorf("pair %d is %s and %s, %s; want %s", i+1, k.Pieces[p.A].ID, k.Pieces[p.B].ID, p.Verdict, want)
		}
	}
	beside := meshtest.Collection(map[string]*mesh.Mesh{"disc-hatch.1": at(t, 0, 0, 0), "disc-hatch.2": at(t, 0, 50, 2), "disc-hull.1": at(t, 0, 50, 0), "disc-hull.2": at(t, 6, 0, 0)}, nil)
	list := magnets.Findings(project(k, beside))
	if len(list) != 1 || list[0].Piece != "disc-hatch.1" || !strings.Contains(list[0].Text, "1 of 2 pairs") {
		t.Errorf("one pair lies side by side: %+v", list)
	}
}
