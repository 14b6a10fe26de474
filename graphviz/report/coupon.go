package report

import (
	"fmt"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/coupon"
)

// Coupon says what is on a fit coupon, and how it is used; file is where it was written,
// empty if that is told elsewhere.
func Coupon(k *kits.Kit, list []coupon.Plate, file string) *document.Document {
	var b blocks
	if file != "" {
		b.text("wrote %s: %s", kits.Plain(file), english.Count(len(list), "plate"))
	}
	for _, p := range list {
		if p.Rows == nil {
			continue
		}
		size := p.Mesh.Size()
		b.heading("%s, %.0f x %.0f mm, layers as for the kit", p.Name, size[0], size[1])
		var rows [][]string
		for i, r := range p.Rows {
			row := []string{fmt.Sprint(i + 1), r.What}
			for dots := 1; dots <= coupon.Steps; dots++ {
				row = append(row, fmt.Sprintf("%.2f", r.Across+coupon.Clearance(p.Process, dots)))
			}
			rows = append(rows, row)
		}
		head := []string{"row", "fit"}
		for dots := 1; dots <= coupon.Steps; dots++ {
			head = append(head, fmt.Sprintf("%s mm, +%.1f", strings.Repeat(".", dots), coupon.Clearance(p.Process, dots)))
		}
		b.add(document.NewTable(head, rows...))
	}
	if left := coupon.LeftOut(k); left != nil {
		b.text("Left out, since only a few kinds of magnets up to a common size are tried: %s.", english.And(left, 12))
	}
	b.text("Row 1 is at the front. The dots give the number of the clearance, which is in all, not on each side.")
	b.text("Print it as you print the kit, clean it and, if it is resin, cure it; then try peg and tongue from five dots down. The least clearance at which they go in by hand without force is that of your printer: write it into the kit as clearance, and let the designer know. dryfit help coupon says more.")
	b.add(cautionBlocks(plan.Hazards(k), true)...)
	return newDocument("Fit coupon", b)
}
