package printingtest_test

import (
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/printing/printingtest"
)

// Solids whose columns are known in closed form.
func TestColumns(t *testing.T) {
	table := meshtest.Box([3]float64{0, 0, 20}, [3]float64{40, 30, 24})
	leg := meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 30, 20})
	far := meshtest.Box([3]float64{32, 0, 0}, [3]float64{40, 30, 20})
	foot := meshtest.Box([3]float64{15, 5, 0}, [3]float64{25, 25, 8})
	cone := func(lean float64) []mesh.Triangle { // from a tip 5 mm above the bed
		h := 10 * math.Tan(lean*math.Pi/180)
		return meshtest.Frustum(0, 10, 5, 5+h, 256)
	}
	under := math.Pi * 100 // of the cone
	for _, c := range []struct {
		name  string
		solid []mesh.Triangle
		rule  printingtest.Rule
		want  float64
	}{
		{"on one leg", meshtest.Merge(table, leg), printingtest.Rule{Angle: 45}, 30 * 30 * 20},
		{"on one leg, no bridge", meshtest.Merge(table, leg), printingtest.Rule{Angle: 45, Bridge: 40, Layer: 0.2}, 30 * 30 * 20},
		{"over a foot", meshtest.Merge(table, leg, foot), printingtest.Rule{Angle: 45}, 30*30*20 - 10*20*8},
		{"gap of 22 mm", meshtest.Merge(table, leg, far), printingtest.Rule{Angle: 45, Bridge: 20, Layer: 0.2}, 22 * 30 * 20},
		{"bridged", meshtest.Merge(table, leg, far), printingtest.Rule{Angle: 45, Bridge: 24, Layer: 0.2}, 0},
		{"flat cone", cone(40), printingtest.Rule{Angle: 45}, under * (5 + 10./3*2*math.Tan(40*math.Pi/180))},
		{"steep cone", cone(50), printingtest.Rule{Angle: 45}, 0},
		{"cone at the angle, filament", cone(45), printingtest.Rule{Angle: 45}, 0},
		{"cone at the angle, resin", cone(45), printingtest.Rule{Angle: 45, At: true}, under * (5 + 20./3)},
	} {
		if got := printingtest.Columns(c.solid, 0.3, c.rule); math.Abs(got-c.want) > 0.01*c.want+1 {
			t.Errorf("%s: %.0f mm3, want %.0f", c.name, got, c.want)
		}
	}
}
