package printing

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"dryfit/kits"
	"dryfit/kits/disjoint"
)

// Aim is what plates are filled for.
type Aim string

// Aims. In each, the others break ties.
const (
	ForOrder  Aim = "order"  // the build waits little for its pieces
	ForPlates Aim = "plates" // as few plates as possible
	ForTime   Aim = "time"   // the last plate ends as soon as possible
)

// Aims lists them, the usual one first.
var Aims = []string{string(ForOrder), string(ForPlates), string(ForTime)}

var endless = math.Inf(1)

// inOrder are the ways to fill plates that are tried when the build counts.
var inOrder = []manner{
	{beds: 0.5}, {beds: 0.65}, {beds: 0.8}, {beds: 1}, {beds: 2}, {beds: 2, byHeight: true}, {beds: 4, byHeight: true}, {beds: endless}, {beds: endless, byHeight: true},
}

// Above manyJobs pieces only a few manners are tried, with less effort, and one way for each
// part to lie.
const manyJobs = 4000

var few = []manner{{beds: 0.8}, {beds: 2, byHeight: true}}

// manners are the ways to fill plates that are tried for an aim.
func manners(aim Aim, jobs int) []manner {
	list, most := slices.Clone(inOrder), quick
	if jobs > manyJobs {
		list, most = slices.Clone(few), hasty
	}
	for i := range list {
		list[i].effort = most
	}
	if aim == ForOrder || aim == "" {
		return list
	}
	if jobs > manyJobs {
		return append(list, manner{beds: endless, falling: 1, effort: most})
	}
	list = append(list, manner{beds: endless, effort: thorough}, manner{beds: 4, byHeight: true, effort: thorough})
	for n := range variations {
		list = append(list, manner{beds: endless, falling: n + 1, effort: quick})
	}
	return list
}

// variations is how many ways to fill plates by falling height are tried.
const variations = 10

// The cost of a filling, in hours, is what a step waits on average for its pieces
// and those of all steps before, plus prices for the time until all is printed
// and for handling each plate.
const (
	endPrice   = 0.5  // of an hour until all is printed
	platePrice = 0.25 // of a plate, in hours: take off, wash or clean, set up
)

// choose fills the plates for an aim, those that are held first. lists are the same jobs,
// with the ways to lie that each room leads to. Printers that share no piece are planned
// apart. New plates are numbered from first on.
func choose(ctx context.Context, kinds []*kits.Printer, held []*Plate, lists [][]*job, aim Aim, first int) []*Plate {
	units := machines(kinds)
	for _, p := range held {
		u := soonest(units, func(u *machine) bool { return kinds[u.kind] == p.Printer })
		p.Unit = u.number
		p.begin(&u.free)
	}
	var made []*Plate
	groups := make([][][]*job, len(lists))
	for n, jobs := range lists {
		groups[n] = sharers(kinds, jobs)
	}
	for g := range groups[0] {
		var tried [][]*Plate
		for n := range groups {
			if n > 0 && !inResin(groups[n][g], kinds) {
				break // all lie alike
			}
			if plates := best(ctx, kinds, units, groups[n][g], aim); plates != nil {
				tried = append(tried, plates)
			}
		}
		if len(tried) > 0 {
			made = append(made, cheapest(tried, aim)...)
		}
	}
	return append(held, numberedPlates(kinds, made, first)...)
}

// inResin reports whether some jobs may be printed in resin.
func inResin(jobs []*job, kinds []*kits.Printer) bool {
	return slices.ContainsFunc(jobs, func(j *job) bool {
		for k, s := range j.on {
			if s != nil && kinds[k].Process == kits.Resin {
				return true
			}
		}
		return false
	})
}

// sharers divides jobs into those that go on different printers.
func sharers(kinds []*kits.Printer, jobs []*job) [][]*job {
	sets := disjoint.New(len(kinds))
	for _, j := range jobs {
		first := -1
		for k, s := range j.on {
			switch {
			case s == nil:
			case first < 0:
				first = k
			default:
				sets.Join(first, k)
			}
		}
	}
	at := map[int]int{}
	var list [][]*job
	for _, j := range jobs {
		k := slices.IndexFunc(j.on, func(s *Setting) bool { return s != nil })
		root := sets.Find(k)
		if _, known := at[root]; !known {
			at[root] = len(list)
			list = append(list, nil)
		}
		list[at[root]] = append(list[at[root]], j)
	}
	return list
}

// numberedPlates puts plates in the order in which they begin; those that begin
// together stay in that of the printers.
func numberedPlates(kinds []*kits.Printer, list []*Plate, first int) []*Plate {
	slices.SortStableFunc(list, func(a, b *Plate) int {
		return cmp.Or(cmp.Compare(a.Begins.High, b.Begins.High), cmp.Compare(slices.Index(kinds, a.Printer), slices.Index(kinds, b.Printer)), cmp.Compare(a.Unit, b.Unit))
	})
	for n, p := range list {
		p.Number = first + n
	}
	return list
}

// best fills plates in each manner and keeps the best for the aim; ties go to the
// first.
func best(ctx context.Context, kinds []*kits.Printer, units []machine, jobs []*job, aim Aim) []*Plate {
	for n, j := range jobs {
		j.number = n
	}
	list := manners(aim, len(jobs))
	filled := make([][]*Plate, 2*len(list))
	err := together(ctx, len(list), func(i int) error {
		if filled[i] = fill(ctx, kinds, units, jobs, list[i]); aim != ForOrder && aim != "" {
			filled[i] = bySteps(filled[i])
		}
		filled[len(list)+i] = overnight(filled[i])
		return nil
	}, func(float64) {})
	if err != nil {
		return nil // stopped: filling itself never fails
	}
	filled = slices.DeleteFunc(filled, func(p []*Plate) bool { return p == nil })
	return cheapest(filled, aim)
}

// cheapest is what costs least for an aim; ties go to the first.
func cheapest(filled [][]*Plate, aim Aim) []*Plate {
	return slices.MinFunc(filled, func(a, b []*Plate) int {
		x, y := costs(a, aim), costs(b, aim)
		for k := range x {
			if math.Abs(x[k]-y[k]) > 1e-9 {
				return cmp.Compare(x[k], y[k])
			}
		}
		return 0
	})
}

// costs are what a filling costs for an aim, what counts most first.
func costs(plates []*Plate, aim Aim) []float64 {
	switch aim {
	case ForPlates:
		return []float64{float64(len(plates)), ends(plates).Hours(), cost(plates)}
	case ForTime:
		return []float64{ends(plates).Hours(), float64(len(plates)), machineTime(plates).Hours(), cost(plates)}
	}
	return []float64{cost(plates)}
}

func ends(plates []*Plate) (end time.Duration) {
	for _, p := range plates {
		end = max(end, p.Ends.High)
	}
	return end
}

func machineTime(plates []*Plate) (all time.Duration) {
	for _, p := range plates {
		all = sum(all, p.Takes.High)
	}
	return all
}

// cost is the cost of a filling, in hours.
func cost(plates []*Plate) float64 {
	last := map[int]time.Duration{} // need -> when all its pieces are printed
	for _, p := range plates {
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
	return waits/float64(max(len(needs), 1)) + endPrice*ends(plates).Hours() + platePrice*float64(len(plates))
}
