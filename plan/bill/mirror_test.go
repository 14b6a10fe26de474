package bill

import (
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/plantest"
)

// Pairs are called mirrored only if their meshes could be; what has the same triangles is
// no look-alike.
func TestMirrored(t *testing.T) {
	p := plantest.Check(t, kit)
	part := func(id string) int {
		list, err := p.Kit.Named(id)
		if err != nil {
			t.Fatal(err)
		}
		return list[0]
	}
	wing, strut := p.Kit.Pieces[part("port-wing")].Part, p.Kit.Pieces[part("strut")].Part
	if !Mirrored(p, wing) || !Mirrored(p, wing.Pair) || Mirrored(p, p.Kit.Pieces[part("box")].Part) {
		t.Error("without meshes the word of the kit does not count")
	}
	box := func(at, long float64) *mesh.Mesh {
		m, err := mesh.FromTriangles("", meshtest.Box([3]float64{at, 0, 0}, [3]float64{at + long, 10, 4}))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{
		"port-wing": box(0, 30), "starboard-wing": box(-30, 30), "strut": box(50, 20), "other-strut": box(80, 20.5),
		"seat.1": box(100, 29.9), "seat.2": box(140, 29.9), "unit": box(200, 30),
	}, nil)
	if !Mirrored(p, wing) || Mirrored(p, strut) || Mirrored(p, strut.Pair) {
		t.Error("the wings are mirrored, the struts are not")
	}
	if a, b := box(0, 30), box(70, 30); !sameShape(a, b) || sameShape(a, box(0, 29.9)) {
		t.Error("a moved box is the same, a shorter one is not")
	}
	for _, i := range List(p) {
		if i.Part.ID == "unit" && (len(i.LooksLike) != 1 || i.LooksLike[0].ID != "seat") {
			t.Errorf("the unit looks like %v", i.LooksLike)
		}
	}
}

// What is bought is never taken for a print.
func TestBoughtLooksLikeNone(t *testing.T) {
	p := plantest.Check(t, "kit: K\nparts: {block: {}, brick: {bought: true}}\njoins: [{fit: brick, to: block}]\n")
	box := func(long float64) *mesh.Mesh {
		m, err := mesh.FromTriangles("", meshtest.Box([3]float64{}, [3]float64{long, 10, 4}))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"block": box(30), "brick": box(29.9)}, nil)
	for _, i := range List(p) {
		if len(i.LooksLike) > 0 {
			t.Errorf("%s looks like %s", i.Part.ID, i.LooksLike[0].ID)
		}
	}
}
