package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dryfit/plan/printing"
)

// sheet has a row for each part on each plate, and for each part on none. Times are in
// minutes.
func (p *Printing) sheet() [][]string {
	rows := [][]string{{"plate", "printer", "unit", "material", "part", "number", "name", "quantity", "pieces", "first step", "printed after least", "printed after most",
		"one takes least", "one takes most", "fits", "turn x", "turn y", "turn z", "high mm", "volume cm3", "mass g", "filament m", "largest layer mm2", "mm above bed",
		"support columns cm3", "support g", "marks cm2", "visible marks cm2", "islands", "marked", "how it lies", "print notes"}}
	of := map[*printing.Part]*printing.Planned{}
	for _, part := range p.Parts {
		of[part.Part] = part
	}
	for _, plate := range p.Plates {
		for _, x := range partsOn(plate) {
			rows = append(rows, append([]string{strconv.Itoa(plate.Number), plate.Printer.ID, strconv.Itoa(plate.Unit), plate.Material.ID}, append(partRow(of[x.part], plate, x.pieces), strings.Join(p.notes(of[x.part].Of), "; "))...))
		}
	}
	for _, part := range p.Parts {
		if !part.Fits() {
			rows = append(rows, append([]string{"", "", "", ""}, append(partRow(part, nil, nil), strings.Join(p.notes(part.Of), "; "))...))
		}
	}
	return rows
}

// partRow is the row for a part and its pieces on a plate.
func partRow(part *printing.Planned, plate *printing.Plate, pieces []printing.Placed) []string {
	row := []string{part.Of.ID, part.Of.Number, part.Of.Name}
	if plate == nil {
		row = append(row, strconv.Itoa(len(part.Pieces)), "", "", "", "", "", "", string(printing.TooLarge), "", "", "", "")
		return append(row, figures(part)...)
	}
	var ids []string
	for _, x := range pieces {
		ids = append(ids, x.Piece.ID)
	}
	s := pieces[0].Setting
	x, y, z := s.Turn.Angles()
	row = append(row, strconv.Itoa(len(pieces)), strings.Join(ids, " "), stepNumber(pieces[0].Piece.Need), minutes(plate.Ends.Low.Minutes()), minutes(plate.Ends.High.Minutes()),
		minutes(s.Time.Low.Minutes()), minutes(s.Time.High.Minutes()), string(s.Fit.Way), degrees(x), degrees(y), degrees(z), fmt.Sprintf("%.1f", s.Height()))
	return append(row, figures(part)...)
}

// figures are those of one piece on any plate.
func figures(part *printing.Planned) []string {
	row := make([]string, 12)
	if !part.BySize {
		row[0] = fmt.Sprintf("%.2f", part.Shape.Volume/1000)
		if part.Fits() {
			row[1] = fmt.Sprintf("%.1f", part.Mass)
		}
		if part.Strand > 0 {
			row[2] = fmt.Sprintf("%.2f", part.Strand)
		}
	}
	if part.Sliced {
		row[3], row[4] = fmt.Sprintf("%.0f", part.Largest.Area), fmt.Sprintf("%.1f", part.Largest.At+part.Setting.Raised)
	}
	if part.Fits() {
		n := &part.Setting.Need
		row[5], row[6], row[7], row[8] = fmt.Sprintf("%.1f", n.Columns/1000), fmt.Sprintf("%.1f", part.Support), fmt.Sprintf("%.1f", n.Area/100), fmt.Sprintf("%.1f", n.Visible/100)
		if n.Islands >= 0 {
			row[9] = strconv.Itoa(n.Islands)
		}
		row[10], row[11] = part.Setting.Marked(), part.Setting.Why
	}
	return row
}

func minutes(m float64) string { return fmt.Sprintf("%.0f", m) }

func degrees(a float64) string { return fmt.Sprintf("%g", math.Round(a*10)/10+0) }

// stepNumber is empty for pieces that no step needs.
func stepNumber(need int) string {
	if need == printing.NoStep {
		return ""
	}
	return strconv.Itoa(need)
}
