package printing

import (
	"cmp"
	"slices"
	"time"

	"dryfit/kits"
)

// begin puts a plate on a printer that is free, and says when it is free again.
func (p *Plate) begin(free *Band) {
	p.Begins = *free
	p.Ends = p.Begins.Plus(p.Takes)
	*free = Band{changed(p.Printer, p.Ends.Low), changed(p.Printer, p.Ends.High)}
}

// changed is when the next plate can begin after one that has ended. All begins when
// the hours of the first day do; a plate that ends outside them waits until they begin
// again.
func changed(p *kits.Printer, end time.Duration) time.Duration {
	end = sum(end, p.Change)
	if p.Hours == [2]time.Duration{} {
		return end
	}
	const day = 24 * time.Hour
	if at := end % day; at > p.Hours[1]-p.Hours[0] {
		return sum(end-at, day)
	}
	return end
}

// bySteps puts the plates of each printer in the order in which the build needs them,
// by the mean need of their pieces, where that ends no later.
func bySteps(plates []*Plate) []*Plate {
	return byMachine(plates, func(list []*Plate, start Band) {
		before := list[len(list)-1].Ends
		slices.SortStableFunc(list, func(a, b *Plate) int { return cmp.Compare(a.meanNeed(), b.meanNeed()) })
		if queue(list, start); list[len(list)-1].Ends.High > before.High {
			slices.SortStableFunc(list, func(a, b *Plate) int { return cmp.Compare(a.Number, b.Number) })
			queue(list, start)
		}
	})
}

// byMachine has the plates of each single printer arranged anew, from when the first of
// them begins.
func byMachine(plates []*Plate, arrange func(list []*Plate, start Band)) (all []*Plate) {
	type machine struct {
		p    *kits.Printer
		unit int
	}
	var machines []machine
	of := map[machine][]*Plate{}
	for _, p := range plates {
		m := machine{p.Printer, p.Unit}
		if of[m] == nil {
			machines = append(machines, m)
		}
		of[m] = append(of[m], p)
	}
	for _, m := range machines {
		arrange(of[m], of[m][0].Begins)
		all = append(all, of[m]...)
	}
	return all
}

// queue times the plates of one printer, from when the first of them could begin.
func queue(list []*Plate, free Band) {
	for _, p := range list {
		p.begin(&free)
	}
}

// meanNeed is the step that needs the pieces of a plate on average; what no step needs
// counts as late.
func (p *Plate) meanNeed() float64 {
	const late = 10_000
	sum := 0
	for _, x := range p.Pieces {
		sum += min(x.Piece.Need, late)
	}
	return float64(sum) / float64(len(p.Pieces))
}
