package report

import (
	"strings"
	"testing"

	"dryfit/plan/printing"
	"dryfit/plan/project/projecttest"
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

// The drawing of a plate takes what its texts leave of a page.
func TestRoomForDrawing(t *testing.T) {
	if roomFor(3, 1) <= roomFor(9, 1) || roomFor(9, 0) <= roomFor(9, 2) || roomFor(200, 9) != leastFigure {
		t.Errorf("%g, %g, %g mm", roomFor(3, 1), roomFor(9, 1), roomFor(200, 9))
	}
}
