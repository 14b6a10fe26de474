package printing

import (
	"cmp"
	"slices"
	"time"

	"dryfit/kits"
)

// maxSwapped is the number of plates of one printer up to which they are reordered to
// end sooner; more stay in order.
const maxSwapped = 60

// overnight is the same plates, copied, with those of each printer that is attended by
// day only in an order in which the last one ends sooner: a long plate runs overnight
// instead of a short one that waits for the morning. Plates are swapped and moved as long as
// that helps, by the upper bounds of their times; nil if nothing does.
func overnight(plates []*Plate) []*Plate {
	copies := make([]*Plate, len(plates))
	for i, p := range plates {
		q := *p
		copies[i] = &q
	}
	helped := false
	all := byMachine(copies, func(list []*Plate, start Band) {
		if list[0].Printer.Hours != [2]time.Duration{} && len(list) <= maxSwapped {
			helped = swapped(list, start.High) || helped
			queue(list, start)
		}
	})
	if !helped {
		return nil
	}
	return all
}

// swapped puts the plates of a printer, which is free at some time, in an order in which
// the last one ends sooner, and reports whether it found one. It starts from the order that there
// is and, if that leads to a sooner end, from the longest first or last.
func swapped(list []*Plate, free time.Duration) bool {
	p := list[0].Printer
	best, end := list, endOf(p, list, free)
	before := end
	for _, sign := range []int{0, 1, -1} {
		tried := slices.Clone(list)
		slices.SortStableFunc(tried, func(a, b *Plate) int { return sign * cmp.Compare(a.Takes.High, b.Takes.High) })
		if e := climbed(p, tried, free); e < end {
			best, end = tried, e
		}
	}
	copy(list, best)
	return end < before
}

// climbed swaps plates, or moves one, as long as that ends sooner, and says when the last
// one ends.
func climbed(p *kits.Printer, list []*Plate, free time.Duration) time.Duration {
	end := endOf(p, list, free)
	try := func(moved []*Plate) bool {
		e := endOf(p, moved, free)
		if e >= end {
			return false
		}
		copy(list, moved)
		end = e
		return true
	}
	for again := true; again; {
		again = false
		for i := range list {
			for j := range list {
				moved := slices.Clone(list)
				moved[i], moved[j] = moved[j], moved[i]
				again = try(moved) || again
				moved = slices.Delete(slices.Clone(list), i, i+1)
				again = try(slices.Insert(moved, j, list[i])) || again
			}
		}
	}
	return end
}

// endOf is when the last of some plates ends at the latest, one after the other.
func endOf(p *kits.Printer, list []*Plate, free time.Duration) (end time.Duration) {
	for _, x := range list {
		end = sum(free, x.Takes.High)
		free = changed(p, end)
	}
	return end
}
