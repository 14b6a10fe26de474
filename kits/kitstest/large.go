package kitstest

import (
	"fmt"
	"strings"
)

// Large is the text of a kit with so many parts, known by their size only, and so many
// copies of each: units of twenty on the bench, every other one inside a hull, with lamps,
// magnets, tasks and several printers. It takes a kit to its limits: 20,000 pieces.
func Large(parts, copies int) string {
	const unit, lamps = 20, 40
	var list, joins, held, wires, branches strings.Builder
	base := ""
	for i := range parts {
		id := fmt.Sprintf("p%d", i)
		fmt.Fprintf(&list, "  %s: {size: [%d.%d, %d.%d, %d], printed: %s", id,
			3+i*7%41, i%10, 2+i*11%37, i/10%10, 1+i*13%23, []string{"resin", "filament"}[i/7%2])
		if i%3 == 0 {
			fmt.Fprintf(&list, ", paint: %s", []string{"before-fit", "none", "before-close"}[i/3%3])
		}
		if copies > 1 {
			fmt.Fprintf(&list, ", quantity: %d", copies)
		}
		list.WriteString("}\n")
		switch {
		case i%unit == 0:
			base = id
			fmt.Fprintf(&joins, "  - {fit: %s, to: left, with: epoxy, bench: true}\n", id)
		case copies > 1:
			fmt.Fprintf(&joins, "  - {fit: %s, to: left, with: ca}\n", id)
		default:
			fmt.Fprintf(&joins, "  - {fit: %s, to: %s, with: ca}\n", id, base)
		}
		if i/unit%2 == 0 {
			held.WriteString(id + ", ")
		}
	}
	for i := range lamps {
		fmt.Fprintf(&list, "  lamp%d: {bought: true, size: [3, 3, 5], mass: 0.2}\n", i)
		fmt.Fprintf(&list, "  magnet%d: {bought: true, size: [4, 4, 2], mass: 0.2}\n", i)
		fmt.Fprintf(&joins, "  - {fit: lamp%d, to: right, with: ca}\n  - {fit: magnet%d, to: left, with: ca}\n", i, i)
		fmt.Fprintf(&wires, "  - {wire: lead%d, from: left, to: lamp%d, runs-in: [hull], across: 1.1, hole: 4, bare: true}\n", i, i)
		fmt.Fprintf(&branches, "    - {lamps: lamp%d, colour: red, current: 5, resistor: 1500, wires: [lead%d], length: 400}\n", i, i)
		held.WriteString(fmt.Sprintf("lamp%d, ", i))
	}
	return "kit: Large\nscale: \"1:32\"\nparts:\n  left: {size: [230, 30, 80], printed: filament, paint: outside}\n" +
		"  right: {size: [230, 30, 80], printed: filament, paint: outside}\n  lid: {size: [60, 40, 3], printed: resin, paint: off-model}\n" +
		"  battery: {bought: true, size: [48, 26, 17], mass: 46}\n" + list.String() +
		"joins:\n" + joins.String() + "  - {close: [left, right], with: epoxy, step: closing}\n" +
		"  - {fit: battery, to: left, with: loose}\n  - {fit: lid, to: [left, right], with: magnet}\n" +
		"spaces:\n  hull:\n    closed-by: [left, right, {piece: lid, opening: [58, 38], facing: z}]\n    holds: [" + held.String() + "battery]\n" +
		"wires:\n" + wires.String() +
		"tasks:\n  - {do: Outside coat, coat: outside, takes: 4h, cure: 1d}\n" +
		"service:\n  - {reach: battery, by-opening: lid}\n" +
		"printers:\n  small: {process: resin, volume: [130, 80, 160]}\n  tall: {process: resin, volume: [220, 130, 240], count: 2}\n" +
		"  plain: {process: filament, volume: [240, 230, 220]}\n  wide: {process: filament, volume: [350, 350, 300], count: 3}\n" +
		"balance: {along: x, support: 110, fill: 15%}\n" +
		"lights:\n  supply: battery\n  volts: 9\n  capacity: 500\n  gauge: 30\n  branches:\n" + branches.String() +
		"magnets:\n  - {magnet: magnet0, north: [0, 0, 1], mates: magnet1, pocket: [4.2, 2.2]}\n  - {magnet: magnet1, north: [0, 0, 1], pocket: [4.2, 2.2]}\n"
}
