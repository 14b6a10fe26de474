package report

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan/printing"
	"dryfit/plan/project/projecttest"
	"dryfit/plan/testprints"
)

// Each piece of a plate is in one row of its sheet, with those of its part that lie and
// are turned alike.
func TestPlateSheetRows(t *testing.T) {
	made, err := PlanPrinting(t.Context(), projecttest.Load(t), printing.ForOrder, nil)
	if err != nil {
		t.Fatal(err)
	}
	shared := 0
	for _, plate := range made.Plates {
		rows := made.pieceTable(plate).Rows
		named := 0
		for _, r := range rows {
			pieces := strings.Split(r.Cells[1].Text, ", .")
			named += len(pieces)
			shared += len(pieces) - 1
		}
		if named != len(plate.Pieces) {
			t.Errorf("plate %d: %d of %d pieces in %d rows", plate.Number, named, len(plate.Pieces), len(rows))
		}
		for _, on := range partsOn(plate) {
			turns := map[printing.Turn]bool{}
			for _, x := range on.pieces {
				turns[x.Turn()] = true
			}
			if got := len(lyingAlike(on.pieces)); got != len(turns) {
				t.Errorf("plate %d: %s is turned in %d ways and has %d rows", plate.Number, on.part.Of.ID, len(turns), got)
			}
		}
	}
	if shared == 0 {
		t.Error("no row has several pieces")
	}
}

// What was learned from the test prints of a part stands on the sheets of its plates.
func TestPlateSheetNotes(t *testing.T) {
	p := projecttest.Load(t)
	var part *kits.Part
	for _, one := range p.Kit.Parts {
		if one.ToPrint() && p.PrintedMesh(one) != nil {
			part = one
			break
		}
	}
	p.Progress = &progress.File{Tests: []*progress.Test{{Part: kits.Ref{Name: part.ID}, Date: "2026-03-31", Result: progress.ResultOK, Mesh: testprints.Content(p, part), Note: "nose down"}}}
	made, err := PlanPrinting(t.Context(), p, printing.ForOrder, nil)
	if err != nil {
		t.Fatal(err)
	}
	noted := 0
	for _, plate := range made.Plates {
		on := slices.ContainsFunc(plate.Pieces, func(x printing.Placed) bool { return x.Part.Of == part })
		if got := slices.Contains(made.lookAt(plate), part.Label()+": print note: nose down."); got != on {
			t.Errorf("plate %d: the note is on its sheet: %v; the part on it: %v", plate.Number, got, on)
		}
		if on {
			noted++
		}
	}
	if noted == 0 {
		t.Error("the part is on no plate")
	}
}

// The drawing of a plate takes what its texts leave of a page.
func TestRoomForDrawing(t *testing.T) {
	if roomFor(3, 1) <= roomFor(9, 1) || roomFor(9, 0) <= roomFor(9, 2) || roomFor(200, 9) != leastFigure {
		t.Errorf("%g, %g, %g mm", roomFor(3, 1), roomFor(9, 1), roomFor(200, 9))
	}
}
