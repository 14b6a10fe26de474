package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/plan/explain"
)

// The demonstration kit, read, checked and ordered.
func BenchmarkDemonstrationKit(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		kit, err := kits.Read("kit.yaml", demo.Kit)
		if err != nil {
			b.Fatal(err)
		}
		rep, err := explain.Check(kit)
		if err != nil || rep.Sequence == nil {
			b.Fatal(err)
		}
		rep.Sequence.Freedom()
	}
}

// Larger kits of the same kind: a hull in two halves, sub-builds in it, detail on it.
func BenchmarkLargerKit(b *testing.B) {
	for _, pieces := range []int{134, 300, 1000, 3000} {
		b.Run(fmt.Sprint(pieces), func(b *testing.B) {
			text := generated(pieces, false)
			for b.Loop() {
				checkText(b, text, true)
			}
		})
	}
}

// A kit in which pieces are trapped, explained with repairs.
func BenchmarkTrappedKit(b *testing.B) {
	for _, pieces := range []int{134, 1000} {
		b.Run(fmt.Sprint(pieces), func(b *testing.B) {
			text := generated(pieces, true)
			for b.Loop() {
				checkText(b, text, false)
			}
		})
	}
}

func checkText(b *testing.B, text string, ok bool) {
	kit, err := kits.Read("kit.yaml", []byte(text))
	if err != nil {
		b.Fatal(err)
	}
	rep, err := explain.Check(kit)
	if err != nil || rep.OK() != ok {
		b.Fatalf("error %v, OK %v", err, rep.OK())
	}
}

// generated makes a kit of about the given number of pieces: units of ten built on
// the bench go into one half of a hull, the rest is outside detail. With trapped,
// one unit in ten is asked to go in after the hull has been closed.
func generated(pieces int, trapped bool) string {
	var parts, joins, held strings.Builder
	units := pieces / 20
	for u := range units {
		after := ""
		if trapped && u%10 == 0 {
			after = ", after: closing"
		}
		fmt.Fprintf(&parts, "  base-%d: {size: [60, 40, 5], paint: before-fit}\n", u)
		fmt.Fprintf(&joins, "  - {fit: base-%d, to: left, with: epoxy-fast, bench: true, size: [60, 40, 30]%s}\n", u, after)
		fmt.Fprintf(&held, "base-%d, ", u)
		for i := range 9 {
			fmt.Fprintf(&parts, "  item-%d-%d: {size: [10, %d, 20], paint: before-fit}\n", u, i, 8+i)
			fmt.Fprintf(&joins, "  - {fit: item-%d-%d, to: base-%d, with: ca, toward: [0, 0, -1]}\n", u, i, u)
			fmt.Fprintf(&held, "item-%d-%d, ", u, i)
		}
	}
	for i := range pieces - 10*units - 3 {
		fmt.Fprintf(&parts, "  detail-%d: {paint: %s, fragile: %v}\n", i, []string{"outside", "off-model"}[i%2], i%5 == 0)
		fmt.Fprintf(&joins, "  - {fit: detail-%d, to: %s, with: ca, toward: [0, 0, %d]}\n", i, []string{"left", "right"}[i/2%2], 1-2*(i%2))
	}
	return "kit: Generated\nparts:\n  left: {}\n  right: {}\n  lid: {}\n" + parts.String() + "joins:\n" + joins.String() +
		"  - {close: [left, right], with: epoxy, step: closing}\n  - {fit: lid, to: [left, right], with: magnet}\n" +
		"spaces:\n  hull:\n    closed-by: [left, right, {piece: lid, opening: [20, 15], facing: z}]\n    holds: [" + strings.TrimSuffix(held.String(), ", ") + "]\n" +
		"tasks:\n  - {do: Outside coat, coat: outside, cure: 1d}\n"
}
