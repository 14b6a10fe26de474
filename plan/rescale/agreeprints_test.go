package rescale_test

import (
	"math"
	"testing"

	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
	"dryfit/plan/rescale"
)

// agreeOnPrinting holds the printing that rescaling plans against that of the kit it
// writes: which printers each part fits, how it lies, what holds it, and what is told.
func agreeOnPrinting(t *testing.T, r *rescale.Report, is *plan.Project) {
	t.Helper()
	made, missing, err := project.Printing(t.Context(), is, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	now := r.Prints.Now
	if len(now.Parts) != len(made.Parts) {
		t.Fatalf("rescale plans %d parts, printing %d", len(now.Parts), len(made.Parts))
	}
	faulty := faultyPieces(r.Findings)
	for i, want := range made.Parts {
		got := now.Parts[i]
		for k, printer := range is.Kit.Printers {
			if got.On[k].Way != want.On[k].Way {
				t.Errorf("%s fits %s %s by rescale, %s by printing", want.Of.ID, printer.ID, got.On[k].Way, want.On[k].Way)
			}
		}
		if got.Fits() != want.Fits() || !want.Fits() {
			if fell := r.Prints.Was.Parts[i].Fits() && !want.Fits(); fell && !faulty[want.Of.ID] {
				t.Errorf("%s no longer fits any printer, and rescale does not say so", want.Of.ID)
			}
			continue
		}
		if got.Printer.ID != want.Printer.ID {
			t.Errorf("%s is on %s by rescale, on %s by printing", want.Of.ID, got.Printer.ID, want.Printer.ID)
			continue
		}
		g, w := &got.Setting.Cost, &want.Setting.Cost
		if off := math.Abs(g.Columns - w.Columns); off > 0.02*w.Columns+0.01 || math.Abs(g.Seen-w.Seen) > 0.02*w.Seen+0.1 {
			t.Errorf("%s: %.2f cm3 of columns, %.2f cm2 seen by rescale; %.2f cm3, %.2f cm2 by printing", want.Of.ID, g.Columns, g.Seen, w.Columns, w.Seen)
		}
	}
	agreeOnRemarks(t, r, made)
	if n := len(r.Prints.Missing); n != len(missing) {
		t.Errorf("%d parts are missing by rescale, %d by printing", n, len(missing))
	}
	if a, b := len(now.Plates), len(made.Plates); math.Abs(float64(a-b)) > 1 {
		t.Errorf("%d plates by rescale, %d by printing", a, b)
	}
}

// agreeOnRemarks: what printing says of a part at the new scale it says at the present one
// already, or rescale tells it.
func agreeOnRemarks(t *testing.T, r *rescale.Report, made *printing.Plan) {
	t.Helper()
	type remark struct{ kind, part string }
	told := map[remark]bool{}
	for _, list := range [][]plan.Finding{r.Findings, r.Prints.Was.Findings(r.Was.Kit.Printers, nil)} {
		for _, f := range list {
			told[remark{f.Kind, f.Piece}] = true
		}
	}
	for _, f := range made.Findings(r.Kit.Printers, nil) {
		if f.Kind == plan.Supports || f.Kind == plan.Layers || f.Grade == plan.Fault {
			if !told[remark{f.Kind, f.Piece}] {
				t.Errorf("printing says what rescale does not: %s %s: %s", f.Kind, f.Piece, f.Text)
			}
		}
	}
}

// A table that stands on four legs as the kit asks: at twice the size the 1536 mm2 between
// them, 20 mm above the bed, need some 246 cm3 of columns instead of 31, and it needs the other
// printer. That is told, with the numbers.
func TestSupportsAtTheNewScale(t *testing.T) {
	text := `kit: Table
scale: "1:48"
parts: {table: {printed: filament, orient: [0, 0, 1]}}
printers:
  small: {process: filament, volume: [60, 60, 60]}
  large: {process: filament, volume: [240, 240, 240]}
`
	table := meshtest.Box([3]float64{0, 0, 20}, [3]float64{40, 40, 22})
	for _, leg := range [][2]float64{{0, 0}, {36, 0}, {0, 36}, {36, 36}} {
		table = append(table, meshtest.Box([3]float64{leg[0], leg[1], 0}, [3]float64{leg[0] + 4, leg[1] + 4, 20})...)
	}
	larger := at(t, "1:24", text, shapes{"table": table})
	want{plan.Supports, plan.Caution, "table", []string{"it needs 24", "cm3 of columns"}}.in(t, larger)
	want{plan.Printing, plan.Caution, "table", []string{"1 part no longer fits the printer that prints it now, and needs another at 1:24", "table fits small now; at 1:24 it needs large"}}.in(t, larger)
	none(t, at(t, "1:47", text, shapes{"table": table}), plan.Supports, plan.Caution)
}
