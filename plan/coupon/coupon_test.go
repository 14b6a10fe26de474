package coupon_test

import (
	"math"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/health"
	"dryfit/plan/coupon"
)

// The plates of every kit are closed, sound solids, and of the volume that their fits leave.
func TestSound(t *testing.T) {
	for name, text := range map[string]string{
		"the demonstration": string(demo.Kit),
		"resin alone":       "kit: K\nparts: {box: {printed: resin}}\n",
		"filament alone":    "kit: K\nparts: {box: {printed: filament}, rod: {bought: true, size: [3, 40, 3]}}\n",
		"large magnets":     "kit: K\nparts: {box: {}, disc: {bought: true, size: [20, 20, 5]}}\njoins: [{fit: disc, to: box}]\nmagnets: [{magnet: disc, north: [0, 0, 1]}]\n",
		"in inches":         "kit: K\nunits: in\nparts: {box: {printed: resin}, disc: {bought: true, size: [0.2, 0.2, 0.08]}}\njoins: [{fit: disc, to: box}]\nmagnets: [{magnet: disc, north: [0, 0, 1]}]\n",
	} {
		plates, err := coupon.Make(kitstest.Read(t, text))
		if err != nil || len(plates) < 2 {
			t.Fatalf("%s: %d plates, %v", name, len(plates), err)
		}
		for _, p := range plates {
			h, err := health.Examine(t.Context(), p.Mesh, health.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if !h.Closed || h.Shells != 1 || len(h.Problems) > 0 || p.Mesh.Turned {
				t.Errorf("%s, %s: closed %v, %d shells, %+v", name, p.Name, h.Closed, h.Shells, h.Problems)
			}
			if want := volume(p); math.Abs(p.Mesh.Volume-want) > 1e-3*want {
				t.Errorf("%s, %s: %g mm3, want %g", name, p.Name, p.Mesh.Volume, want)
			}
		}
	}
}

// Magnets that are too large to be tried are left out, and named.
func TestLeftOut(t *testing.T) {
	kit := kitstest.Read(t, `kit: K
parts:
  box: {}
  small: {bought: true, size: [5, 5, 2]}
  wide: {bought: true, size: [2000, 2000, 5]}
  long: {bought: true, size: [5, 5, 900]}
joins: [{fit: small, to: box}, {fit: wide, to: box}, {fit: long, to: box}]
magnets: [{magnet: small, north: [0, 0, 1]}, {magnet: wide, north: [0, 0, 1]}, {magnet: long, north: [0, 0, 1]}]
`)
	plates, err := coupon.Make(kit)
	if err != nil {
		t.Fatal(err)
	}
	if rows := plates[0].Rows; len(rows) != 3 || rows[2].What != "magnet of 5 x 2 mm in a pocket" {
		t.Errorf("rows %+v", rows)
	}
	if got, want := coupon.LeftOut(kit), []string{"magnet of 2000 x 5 mm", "magnet of 5 x 900 mm"}; !slices.Equal(got, want) {
		t.Errorf("left out %q, want %q", got, want)
	}
}

// volume is the box of a plate, less its holes, with its dots or with peg and tongue. The
// polygons of holes are a little larger than their circles, those of pegs smaller.
func volume(p coupon.Plate) float64 {
	s := p.Mesh.Size()
	circle := func(d float64) float64 { return math.Pi * d * d / 4 }
	if p.Rows == nil {
		return s[0]*s[1]*(s[2]-6) + circle(5)*6 + 10*2*6
	}
	thick := s[2] - 0.8
	v := s[0] * s[1] * thick
	for i, r := range p.Rows {
		for dots := 1; dots <= coupon.Steps; dots++ {
			c := coupon.Clearance(p.Process, dots)
			deep, hole := thick, circle(r.Across+c)
			if r.Depth > 0 {
				deep = r.Depth
			}
			if i == 1 {
				hole = (10 + c) * (2 + c)
			}
			v += float64(dots)*circle(1.2)*0.8 - hole*deep
		}
	}
	return v
}

// The rows are the kit's own fits: its magnets and rods, each size once.
func TestRows(t *testing.T) {
	plates, err := coupon.Make(kitstest.Read(t, string(demo.Kit)))
	if err != nil {
		t.Fatal(err)
	}
	if len(plates) != 4 || plates[0].Process != kits.Resin || plates[2].Process != kits.Filament {
		t.Fatalf("%d plates", len(plates))
	}
	var got []string
	for _, r := range plates[0].Rows {
		got = append(got, r.What)
	}
	want := []string{"peg of 5 mm in a hole", "tongue of 10 x 2 mm in a groove", "magnet of 5 x 2 mm in a pocket", "magnet of 4 x 2 mm in a pocket",
		"rod or tube of 0.8 mm in a hole", "rod or tube of 2 mm in a hole", "rod or tube of 1.5 mm in a hole"}
	if len(got) != len(want) {
		t.Fatalf("rows %q", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("row %d is %q, want %q", i+1, got[i], want[i])
		}
	}
}
