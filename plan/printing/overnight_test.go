package printing

import (
	"math"
	"math/rand"
	"slices"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// attended is a printer at which somebody is from 7 to 22.
func attended() *kits.Printer {
	p := testPrinter("p", kits.Filament, geom.Vec{200, 200, 200})
	p.Hours, p.Change = [2]time.Duration{7 * time.Hour, 22 * time.Hour}, 15*time.Minute
	return p
}

func timed(p *kits.Printer, hours ...float64) (list []*Plate) {
	for i, h := range hours {
		t := time.Duration(h * float64(time.Hour))
		list = append(list, &Plate{Number: i + 1, Printer: p, Unit: 1, Takes: Band{t, t}})
	}
	queue(list, Band{})
	return list
}

// soonestEnd is the end of the best of all orders of some times on a printer, worked out
// hour by hour of the clock.
func soonestEnd(p *kits.Printer, takes []time.Duration, free time.Duration) time.Duration {
	if len(takes) == 0 {
		return 0
	}
	best := time.Duration(1<<62 - 1)
	for i, t := range takes {
		end := free + t
		rest := slices.Delete(slices.Clone(takes), i, i+1)
		if len(rest) > 0 {
			next := end + p.Change
			for clock := (next + p.Hours[0]) % (24 * time.Hour); clock < p.Hours[0] || clock > p.Hours[1]; clock = (next + p.Hours[0]) % (24 * time.Hour) {
				next += time.Minute
			}
			end = soonestEnd(p, rest, next)
		}
		best = min(best, end)
	}
	return best
}

// A plate of 11 h runs overnight, after a short one, rather than by day.
func TestLongPlateRunsOvernight(t *testing.T) {
	p := attended()
	plates := timed(p, 11, 6, 3)
	list := overnight(plates)
	if got, want := ends(list), 21*time.Hour+30*time.Minute; got > want || list[2].Takes.High != 11*time.Hour {
		t.Errorf("they end after %v, want %v; before %v", got, want, ends(plates))
	}
	if plates[0].Takes.High != 11*time.Hour || plates[0].Begins.High != 0 {
		t.Error("the plates themselves were moved")
	}
	p.Hours = [2]time.Duration{}
	if overnight(timed(p, 11, 6, 3)) != nil {
		t.Error("round the clock no order ends sooner, yet one is given")
	}
}

// Against all orders of up to six plates: never later than before, and nearly always the
// soonest end that there is.
func TestOvernightAgainstAllOrders(t *testing.T) {
	rng := rand.New(rand.NewSource(17))
	const rounds = 200
	soonest, later := 0, time.Duration(0)
	for range rounds {
		p := attended()
		var hours []float64
		for range 3 + rng.Intn(4) {
			hours = append(hours, float64(1+rng.Intn(60))/4)
		}
		plates := timed(p, hours...)
		var takes []time.Duration
		for _, x := range plates {
			takes = append(takes, x.Takes.High)
		}
		got := ends(plates)
		if list := overnight(plates); list != nil {
			if e := ends(list); e >= got || len(list) != len(plates) {
				t.Fatalf("%v end after %v, before %v", hours, e, got)
			}
			got = ends(list)
		}
		want := soonestEnd(p, takes, 0)
		if got < want {
			t.Fatalf("%v end after %v, which no order does", hours, got)
		}
		if got == want {
			soonest++
		}
		later = max(later, got-want)
	}
	t.Logf("the soonest end in %d of %d; at most %v later", soonest, rounds, later)
	if soonest < rounds*19/20 {
		t.Errorf("the soonest end in %d of %d", soonest, rounds)
	}
}

// A plan for time ends as soon as the best of all orders of its plates.
func TestPlanUsesTheNight(t *testing.T) {
	p := attended()
	p.Longest = time.Hour // so that each piece has a plate of its own
	pla := &kits.Material{ID: "pla", Process: kits.Filament}
	kinds := []*kits.Printer{p}
	var jobs []*job
	for i, hours := range []float64{11, 6, 3, 9, 4.5, 7, 12.2} {
		side := math.Sqrt(hours * 3600 * p.Flow / p.Overhead[1] / 10)
		jobs = append(jobs, boxJob(string(rune('a'+i)), i+1, geom.Vec{side, side, 20}, kinds, pla))
	}
	plates := choose(t.Context(), kinds, nil, [][]*job{numbered(jobs)}, ForTime, 1)
	sound(t, plates, jobs)
	var takes []time.Duration
	for _, x := range plates {
		takes = append(takes, x.Takes.High)
	}
	if got, want := ends(plates), soonestEnd(p, takes, 0); len(plates) != len(jobs) || got > want+time.Minute {
		t.Errorf("%d plates end after %v, the best order after %v: %v", len(plates), got, want, takes)
	}
}
