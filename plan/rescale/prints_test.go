package rescale_test

import (
	"math"
	"testing"

	"dryfit/plan"
	"dryfit/plan/rescale"
)

const printKit = `kit: Prints
scale: "1:32"
about: 200 mm long
parts:
  hull: {printed: resin, size: [90, 30, 20]}
  wing: {printed: resin, size: [180, 20, 4], note: spar hole 3 mm}
  rod: {bought: true, size: [100, 2, 2]}
  sheet: {bought: true, fixed-size: true, size: [40, 20, 2]}
joins: [{fit: wing, to: hull}, {fit: rod, to: hull}, {fit: sheet, to: wing}]
printers: {small: {process: resin, volume: [100, 50, 100]}}
`

// What fits a printer of 100 x 50 x 100 mm, whose longest diagonal is 150 mm.
func TestPrints(t *testing.T) {
	larger := at(t, "1:16", printKit, nil)
	want{plan.Printing, plan.Fault, "hull", []string{"fits a printer now and none at 1:16", "180 x 60 x 40 mm", "small, 100 x 50 x 100 mm, comes nearest", "split it"}}.in(t, larger)
	want{plan.Printing, plan.Caution, "", []string{"fits no printer at either scale: wing"}}.in(t, larger)
	smaller := at(t, "50%", printKit, nil)
	want{plan.Printing, plan.Note, "", []string{"and none at the present scale: wing"}}.in(t, smaller)
	none(t, smaller, plan.Printing, plan.Fault)
	want{rescale.Seating, plan.Caution, "", []string{"bought, and scaled as if printed: rod", "fixed-size: true"}}.in(t, smaller)
	want{rescale.Seating, plan.Caution, "sheet", []string{"as thick as what it is fitted to: wing, 2 mm where it is slimmest, instead of 4 mm"}}.in(t, smaller)
	want{rescale.Texts, plan.Note, "", []string{"about: 200 mm long", "wing: spar hole 3 mm"}}.in(t, smaller)
}

// Volume and mass go with the cube; resin time with the height, filament time with the
// volume. Sizes of parts are those of the scale.
func TestCubeLaw(t *testing.T) {
	text := `kit: Cube
parts: {a: {printed: filament, size: [30, 20, 10]}}
printers: {p: {process: filament, volume: [200, 200, 200], change: 0s}}
`
	for _, f := range []float64{0.5, 1, 2, 3} {
		rep := at(t, rescalePercent(f), text, nil)
		p := rep.Parts[0]
		if p.Now != [3]float64{30 * f, 20 * f, 10 * f} || math.Abs(p.Volume-6000*f*f*f) > 1e-6 {
			t.Errorf("at %g: %v, %g mm3", f, p.Now, p.Volume)
		}
		if mass, _, most, unknown := rep.Mass(); math.Abs(mass-6*1.24*f*f*f) > 1e-6 || !most || len(unknown) > 0 {
			t.Errorf("at %g: %g g, at most %v, without %d", f, mass, most, len(unknown))
		}
		was, now := rescale.MachineTime(rep.Prints.Was), rescale.MachineTime(rep.Prints.Now)
		if ratio := now.High.Seconds() / was.High.Seconds(); math.Abs(ratio-f*f*f) > 1e-6 {
			t.Errorf("at %g it takes %g times as long", f, ratio)
		}
	}
}

func rescalePercent(f float64) string {
	return map[float64]string{0.5: "50%", 1: "100%", 2: "200%", 3: "300%"}[f]
}
