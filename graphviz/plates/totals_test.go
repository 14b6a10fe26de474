package plates

import (
	"math"
	"testing"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/printing"
	"dryfit/plan/totals"
)

// centre is the centre of mass of a closed surface, from its tetrahedra with the origin.
func centre(list []mesh.Triangle) (c [3]float64) {
	for _, t := range list {
		v := enclosed([]mesh.Triangle{t})
		for k := range 3 {
			c[k] += v * float64(t[0][k]+t[1][k]+t[2][k]) / 4
		}
	}
	full := enclosed(list)
	for k := range 3 {
		c[k] /= full
	}
	return c
}

// Mass, packages and cost of a material follow from the meshes in the files of its plates
// alone, supports included; so do centres of mass, the number of pieces,
// and when a printer is done with the plates that the files make up.
func TestTotalsFromFiles(t *testing.T) {
	p, made := demoPlates(t)
	for _, m := range p.Kit.Materials {
		defer func(was kits.Material) { *m = was }(*m)
		m.Package, m.Price = 12, &kits.Price{Amount: 3.5, Currency: "EUR"}
	}
	sums, err := totals.Make(p, made)
	if err != nil {
		t.Fatal(err)
	}
	waste := map[string]float64{"petg": 0.05, "clear-resin": 0.10}
	checked := 0
	for _, got := range sums.Prints {
		share, small := waste[got.Of.ID]
		if !small {
			continue // the others have tooling without meshes, or take long to read
		}
		grams, held, pieces, hours := 0.0, 0.0, 0, 0.0
		for _, plate := range made.Plates {
			if plate.Material != got.Of {
				continue
			}
			of := readBack(t, plate)
			pieces += len(of)
			hours += (plate.Ends.High - plate.Begins.High).Hours()
			for _, x := range plate.Pieces {
				o := of[x.Piece.ID]
				supports := supported(plate.Printer, x.Part, o) / 1000 * got.Of.Density * (1 + share)
				grams += material(p.Kit, x.Part, o)/1000*got.Of.Density*(1+share) + supports
				held += supports
				checkCentre(t, &x, o)
			}
		}
		packages := int(math.Ceil(grams / 12))
		if math.Abs(got.Mass-grams) > 2e-3*grams+0.05*held || got.Pieces != pieces || got.Packages != packages || math.Abs(got.Cost-3.5*float64(packages)) > 1e-9 {
			t.Errorf("%s: %d pieces, %.2f g, %d packages for %.2f; the files say %d, %.2f, %d", got.Of.ID, got.Pieces, got.Mass, got.Packages, got.Cost, pieces, grams, packages)
		}
		if math.Abs(got.Takes.High.Hours()-hours) > 1e-6 {
			t.Errorf("%s: %.3f h, its plates take %.3f", got.Of.ID, got.Takes.High.Hours(), hours)
		}
		checked++
	}
	if checked != len(waste) {
		t.Errorf("%d materials checked", checked)
	}
}

// checkCentre compares the centre of mass of what was written with that of the part,
// turned by the angles of the sheet, both counted from the first corner of its mesh.
func checkCentre(t *testing.T, x *printing.Placed, o object) {
	t.Helper()
	angles := [3]float64{}
	angles[0], angles[1], angles[2] = x.Turn().Angles()
	first := o.triangles[0][0]
	corner := meshtest.Triangles(t, x.Part.Mesh())[0][0]
	was := [3]float64{float64(corner[0]), float64(corner[1]), float64(corner[2])}
	want, from := turned(x.Part.Shape.Centre, angles), turned(was, angles)
	got := centre(o.triangles)
	for k := range 3 {
		if d := (got[k] - float64(first[k])) - (want[k] - from[k]); math.Abs(d) > 0.02 {
			t.Errorf("%s: its centre of mass is %.3f mm off along %c", x.Piece.ID, d, "xyz"[k])
			return
		}
	}
}
