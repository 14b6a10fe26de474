package printing

import (
	"math"
	"slices"
	"time"

	"dryfit/kits"
)

// manners are the ways to fill plates that are tried.
var manners = []manner{
	{0.5, false}, {0.65, false}, {0.8, false}, {1, false}, {2, false}, {2, true}, {4, true}, {math.Inf(1), false}, {math.Inf(1), true},
}

// Above manyJobs pieces only a few manners are tried.
const manyJobs = 4000

var few = []manner{{0.8, false}, {2, true}}

// The cost of a filling, in hours, is what a step waits on average for its pieces
// and those of all steps before, plus prices for the time until all is printed
// and for handling each plate.
const (
	endPrice   = 0.5  // of an hour until all is printed
	platePrice = 0.25 // of a plate, in hours: take off, wash or clean, set up
)

// choose fills the plates in each manner and keeps the best; ties go to the
// first.
func choose(kinds []*kits.Printer, jobs []*job) []*Plate {
	list := manners
	if len(jobs) > manyJobs {
		list = few
	}
	filled := make([][]*Plate, len(list))
	err := together(len(list), func(i int) error {
		filled[i] = fill(kinds, jobs, list[i])
		return nil
	}, func(float64) {})
	if err != nil {
		panic(err) // filling never fails
	}
	return slices.MinFunc(filled, func(a, b []*Plate) int {
		x, y := cost(a), cost(b)
		switch {
		case x < y-1e-9:
			return -1
		case x > y+1e-9:
			return 1
		}
		return 0
	})
}

// cost is the cost of a filling, in hours.
func cost(plates []*Plate) float64 {
	last := map[int]time.Duration{} // need -> when all its pieces are printed
	var end time.Duration
	for _, p := range plates {
		end = max(end, p.Ends.High)
		for _, x := range p.Pieces {
			last[x.Piece.Need] = max(last[x.Piece.Need], p.Ends.High)
		}
	}
	delete(last, NoStep)
	needs := make([]int, 0, len(last))
	for n := range last {
		needs = append(needs, n)
	}
	slices.Sort(needs)
	var waits float64
	var until time.Duration
	for _, n := range needs {
		until = max(until, last[n])
		waits += until.Hours()
	}
	return waits/float64(max(len(needs), 1)) + endPrice*end.Hours() + platePrice*float64(len(plates))
}
