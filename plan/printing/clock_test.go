package printing

import (
	"fmt"
	"math"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
)

// A part 120 mm high in layers of 0.05 mm, 3 s of light and 6 s of motion each, is
// 2400 layers or 6 h, and five base layers take 30 s of light each instead of 3
// (computed).
func TestResinTime(t *testing.T) {
	p := testPrinter("p", kits.Resin, geom.Vec{150, 90, 160})
	if got, want := resinTime(p, 120), 6*time.Hour+5*27*time.Second; got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got, want := resinTime(p, 0.01), 6*time.Second+30*time.Second; got != want {
		t.Errorf("a part lower than a layer takes %v, want one base layer, %v", got, want)
	}
}

// Volume by flow, times an overhead of 1.3 to 1.6 (common practice): 36 cm3 at 10 mm3/s
// is an hour.
func TestFilamentTime(t *testing.T) {
	p := testPrinter("p", kits.Filament, geom.Vec{240, 230, 220})
	p.Flow = 10
	if got, want := filamentTime(p, 36_000), (Band{78 * time.Minute, 96 * time.Minute}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// Times of absurd printers stay finite.
func TestTimesAreBounded(t *testing.T) {
	p := testPrinter("p", kits.Resin, geom.Vec{1e6, 1e6, 1e6})
	p.Exposure, p.Layer = 366*24*time.Hour, 0.001
	if got := resinTime(p, 1e6); got != maxTime {
		t.Errorf("%v", got)
	}
	p = testPrinter("p", kits.Filament, geom.Vec{1e6, 1e6, 1e6})
	p.Flow = 1e-9
	if got := filamentTime(p, 1e18); got != (Band{maxTime, maxTime}) {
		t.Errorf("%v", got)
	}
}

// Forty plates of ten years each are more than a Duration holds: their sum stops at 200
// years, nothing ends before it begins, and both are told.
func TestSumsOfTimesAreBounded(t *testing.T) {
	p := testPrinter("slow", kits.Filament, geom.Vec{50, 50, 50})
	p.Flow, p.Hours = 1e-6, [2]time.Duration{7 * time.Hour, 22 * time.Hour}
	pla := &kits.Material{ID: "pla", Process: kits.Filament, Density: 1.24}
	r := Request{Printers: []*kits.Printer{p}, Materials: []*kits.Material{pla}}
	part := partOf(t, &kits.Part{ID: "block", Printed: kits.Filament, Material: pla}, meshtest.Box([3]float64{}, [3]float64{40, 40, 40}))
	part.Pieces = nil
	for n := range 40 {
		part.Pieces = append(part.Pieces, Piece{ID: fmt.Sprint("block.", n+1), Need: 1})
	}
	r.Parts = []*Part{part}
	for _, aim := range []Aim{ForOrder, ForTime} {
		r.Aim = aim
		made, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if len(made.Plates) != 40 || made.Ends.High != maxSum {
			t.Errorf("%s: %d plates, done after %v", aim, len(made.Plates), made.Ends.High)
		}
		for _, plate := range made.Plates {
			if plate.Takes.High != maxTime || plate.Ends.High < plate.Begins.High || plate.Begins.Low < 0 {
				t.Fatalf("%s: plate %d takes %v, from %v to %v", aim, plate.Number, plate.Takes, plate.Begins, plate.Ends)
			}
		}
		list := made.Findings(r.Printers, nil)
		wants(t, list, plan.Caution, "take ten years or more, and count as ten")
		wants(t, list, plan.Caution, "the plates together take 200 years or more")
	}
}

// A metre of filament 1.75 mm thick holds 2.405 cm3, 2.98 g of PLA at 1.24 g/cm3
// (computed from the diameter).
func TestStrandAndMass(t *testing.T) {
	if got := strandLength(2405); math.Abs(got-1) > 0.001 {
		t.Errorf("2.405 cm3 are %.4f m", got)
	}
	if got := mass(2405, &kits.Material{Density: 1.24}); math.Abs(got-2.98) > 0.005 {
		t.Errorf("2.405 cm3 of PLA weigh %.4f g", got)
	}
}
