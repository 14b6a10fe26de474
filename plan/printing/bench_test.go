package printing

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// manyParts is a made-up kit: boxes, tubes, balls and plates from 3 mm to the size of a
// large bed, at random turns, some of them several times, each with its step.
func manyParts(tb testing.TB, n int) Request {
	rng := rand.New(rand.NewSource(9))
	materials := []*kits.Material{{ID: "resin", Process: kits.Resin, Density: 1.15}, {ID: "pla", Process: kits.Filament, Density: 1.24}}
	r := Request{Materials: materials, Printers: []*kits.Printer{
		testPrinter("small", kits.Resin, geom.Vec{150, 90, 160}), testPrinter("wide", kits.Resin, geom.Vec{210, 140, 230}),
		testPrinter("large", kits.Filament, geom.Vec{240, 230, 220}), testPrinter("low", kits.Filament, geom.Vec{170, 190, 160}),
	}}
	for i := range n {
		size := 3 * math.Pow(80, rng.Float64()*rng.Float64())
		m := materials[rng.Intn(2)]
		if m.Process == kits.Resin {
			size /= 1.5
		}
		var solid []mesh.Triangle
		switch rng.Intn(4) {
		case 0:
			solid = meshtest.Box([3]float64{0, 0, 0}, [3]float64{size, size * rng.Float64(), size * rng.Float64()})
		case 1:
			solid = meshtest.Tube(size/2, size/3, 0, size*rng.Float64(), 48)
		case 2:
			solid = meshtest.Sphere(size/2, 24, 12)
		case 3:
			solid = meshtest.Box([3]float64{0, 0, 0}, [3]float64{size, size / 2, 1 + size/50})
		}
		solid = meshtest.Transform(solid, meshtest.RandomRotation(rng), [3]float64{size, -size, 2 * size}, 1)
		p := &Part{Of: &kits.Part{ID: fmt.Sprint("part-", i), Printed: m.Process, Material: m}}
		mm := meshOf(tb, solid)
		p.Surface, p.Shape = mm, mm.Shape
		for c := range 1 + rng.Intn(2)*rng.Intn(3) {
			p.Pieces = append(p.Pieces, Piece{ID: fmt.Sprintf("part-%d.%d", i, c+1), Need: 1 + rng.Intn(2*n)})
		}
		r.Parts = append(r.Parts, p)
	}
	return r
}

func BenchmarkThousandParts(b *testing.B) {
	r := manyParts(b, 1000)
	for b.Loop() {
		p, err := Make(b.Context(), r)
		if err != nil {
			b.Fatal(err)
		}
		n := 0
		for _, plate := range p.Plates {
			n += len(plate.Pieces)
		}
		b.ReportMetric(float64(n), "pieces")
		b.ReportMetric(float64(len(p.Plates)), "plates")
	}
}
