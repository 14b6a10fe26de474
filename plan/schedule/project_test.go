package schedule_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"dryfit/kits/kitstest"
	"dryfit/plan/schedule"
)

// small makes a project of up to eight activities in whole hours.
func small(rnd *rand.Rand) *schedule.Project {
	p := &schedule.Project{Capacity: []int{1 + rnd.IntN(3), 1 + rnd.IntN(2)}}
	if rnd.IntN(2) == 0 {
		p.Day = schedule.Day(time.Duration(3+rnd.IntN(8)) * time.Hour)
	}
	for v := range 3 + rnd.IntN(6) {
		a := schedule.Activity{Takes: time.Duration(rnd.IntN(5)) * time.Hour}
		for r, capacity := range p.Capacity {
			if amount := rnd.IntN(capacity + 1); amount > 0 {
				a.Uses = append(a.Uses, schedule.Use{Resource: r, Amount: amount})
			}
		}
		for w := range v {
			if rnd.IntN(4) == 0 {
				a.After = append(a.After, schedule.Wait{On: w, For: time.Duration(rnd.IntN(3)*rnd.IntN(5)) * time.Hour})
			}
		}
		p.Activities = append(p.Activities, a)
	}
	return p
}

// busy makes a project of up to eight activities for one pair of hands, in which it
// matters most what sets soon: one of which some wait for a long time.
func busy(rnd *rand.Rand) *schedule.Project {
	p := &schedule.Project{Capacity: []int{1}}
	for v := range 5 + rnd.IntN(4) {
		a := schedule.Activity{Takes: time.Duration(1+rnd.IntN(3)) * time.Hour, Uses: []schedule.Use{{Resource: 0, Amount: 1}}}
		for w := range v {
			if rnd.IntN(3) == 0 {
				a.After = append(a.After, schedule.Wait{On: w, For: time.Duration(rnd.IntN(8)) * time.Hour})
			}
		}
		p.Activities = append(p.Activities, a)
	}
	return p
}

// brute tries all starts by the hour, written from the meaning of a project: what is
// used is counted hour by hour, work goes on in the first hours of each day only, and
// what fits into a day is not interrupted. It returns the least length under limit, or
// limit.
type brute struct {
	p     *schedule.Project
	busy  [][]int // hour -> resource -> in use
	ends  []int
	limit int
}

func (b *brute) open(hour int) bool {
	return b.p.Day == 0 || hour%24 < int(time.Duration(b.p.Day)/time.Hour)
}

// hours lists the hours in which an activity that starts at an hour is worked at; nil if
// it cannot start then.
func (b *brute) hours(start, takes int) []int {
	var list []int
	for h := start; len(list) < takes; h++ {
		if b.open(h) {
			list = append(list, h)
		} else if len(list) == 0 || b.p.Day > 0 && takes <= int(time.Duration(b.p.Day)/time.Hour) {
			return nil
		}
	}
	return list
}

func (b *brute) place(v int) {
	if v == len(b.p.Activities) {
		b.limit = slices.Max(b.ends)
		return
	}
	a := b.p.Activities[v]
	takes := int(a.Takes / time.Hour)
	ready := 0
	for _, w := range a.After {
		ready = max(ready, b.ends[w.On]+int(w.For/time.Hour))
	}
	for start := ready; start+takes < b.limit; start++ {
		hours := b.hours(start, takes)
		end := start
		switch {
		case takes > 0 && hours == nil:
			continue
		case takes > 0:
			end = hours[takes-1] + 1
		case !b.open(start) && (start == 0 || !b.open(start-1)):
			continue // what takes no time needs someone there to the last moment
		}
		if end >= b.limit {
			return
		}
		if b.use(a, hours) {
			b.ends[v] = end
			b.place(v + 1)
		}
		b.giveBack(a, hours)
	}
}

// use counts what an activity uses and reports whether it was there.
func (b *brute) use(a schedule.Activity, hours []int) bool {
	ok := true
	for _, h := range hours {
		for _, u := range a.Uses {
			b.busy[h][u.Resource] += u.Amount
			ok = ok && b.busy[h][u.Resource] <= b.p.Capacity[u.Resource]
		}
	}
	return ok
}

func (b *brute) giveBack(a schedule.Activity, hours []int) {
	for _, h := range hours {
		for _, u := range a.Uses {
			b.busy[h][u.Resource] -= u.Amount
		}
	}
}

// A project of small whole hours has a shortest schedule that starts by the hour, since
// no activity can be started earlier than where another ends, waits or a day begins.
func TestAgainstBruteForce(t *testing.T) {
	improved := 0
	for seed := range uint64(kitstest.Rounds(t, 600, 200)) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		p := small(rnd)
		if seed%2 == 1 {
			p = busy(rnd)
		}
		s, err := p.Schedule(upTo(len(p.Activities)), 100_000)
		if err != nil {
			t.Fatal(err)
		}
		valid(t, p, s)
		b := &brute{p: p, ends: make([]int, len(p.Activities)), limit: int(s.Length/time.Hour) + 2}
		for range b.limit + 200 {
			b.busy = append(b.busy, make([]int, len(p.Capacity)))
		}
		b.place(0)
		if least := time.Duration(b.limit) * time.Hour; s.Length != least || s.Bound != least {
			t.Errorf("seed %d: length %v, bound %v; brute force %v of\n%v", seed, s.Length, s.Bound, least, p)
		}
		if none, _ := p.Schedule(upTo(len(p.Activities)), 0); none.Length > s.Length {
			improved++
		}
	}
	if improved == 0 {
		t.Error("the exact search was never needed")
	}
}

// large makes a project as a kit makes it: hands, and a place for each group of steps.
func large(rnd *rand.Rand, count, hands int) *schedule.Project {
	p := &schedule.Project{Capacity: []int{hands, 1, 1, 1}, Day: schedule.Day(8 * time.Hour)}
	for v := range count {
		a := schedule.Activity{Takes: time.Duration(rnd.IntN(40)) * time.Minute}
		a.Uses = []schedule.Use{{Resource: 0, Amount: 1}, {Resource: 1 + rnd.IntN(3), Amount: 1}}
		for range min(v, 2) {
			a.After = append(a.After, schedule.Wait{On: v - 1 - rnd.IntN(min(v, 30)), For: time.Duration(rnd.IntN(3)*rnd.IntN(200)) * time.Minute})
		}
		p.Activities = append(p.Activities, a)
	}
	return p
}

func TestLargeSchedules(t *testing.T) {
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(seed, 6))
		p := large(rnd, 30+rnd.IntN(100), 1+rnd.IntN(3))
		s, err := p.Schedule(upTo(len(p.Activities)), 500)
		if err != nil {
			t.Fatal(err)
		}
		valid(t, p, s)
		handsOn := time.Duration(0)
		for _, a := range p.Activities {
			handsOn += a.Takes
		}
		if need := handsOn / time.Duration(p.Capacity[0]); s.Bound < need {
			t.Errorf("seed %d: bound %v, work for %d pairs of hands %v", seed, s.Bound, p.Capacity[0], need)
		}
		for v, a := range p.Activities {
			if morning := s.Start[v] % (24 * time.Hour); morning+a.Takes > 8*time.Hour {
				t.Errorf("seed %d: %d goes on from %v for %v, beyond the evening", seed, v, s.Start[v], a.Takes)
			}
		}
		again, err := p.Schedule(upTo(len(p.Activities)), 500)
		if err != nil || !slices.Equal(again.Start, s.Start) {
			t.Errorf("seed %d: another schedule the second time", seed)
		}
		chain := p.Chain(s)
		if chain[0].Free != 0 || s.End[chain[len(chain)-1].Activity] != s.Length {
			t.Errorf("seed %d: the chain does not go from start to end: %v", seed, chain)
		}
	}
}

// With more hands it never takes longer: exact lengths of small projects.
func TestMoreHands(t *testing.T) {
	for seed := range uint64(60) {
		p := small(rand.New(rand.NewPCG(seed, 7)))
		few, err := p.Schedule(upTo(len(p.Activities)), 100_000)
		if err != nil {
			t.Fatal(err)
		}
		p.Capacity[0]++
		more, err := p.Schedule(upTo(len(p.Activities)), 100_000)
		if err != nil {
			t.Fatal(err)
		}
		if more.Length > few.Length {
			t.Errorf("seed %d: %v, with one more %v", seed, few.Length, more.Length)
		}
	}
}

// The glue of 0 sets for three hours; meanwhile 1 is done, and then no one has
// work.
func TestWaitingOccupiesNobody(t *testing.T) {
	one := []schedule.Use{{Resource: 0, Amount: 1}}
	p := &schedule.Project{Capacity: []int{1}, Activities: []schedule.Activity{
		{Takes: time.Hour, Uses: one},
		{Takes: 2 * time.Hour, Uses: one},
		{Takes: time.Hour, Uses: one, After: []schedule.Wait{{On: 0, For: 3 * time.Hour}}},
	}}
	s, err := p.Schedule(upTo(3), 100)
	if err != nil {
		t.Fatal(err)
	}
	if want := []time.Duration{0, time.Hour, 4 * time.Hour}; !slices.Equal(s.Start, want) || !s.Least() {
		t.Errorf("starts %v, bound %v", s.Start, s.Bound)
	}
	if want := []schedule.Span{{From: 3 * time.Hour, To: 4 * time.Hour}}; !slices.Equal(p.Idle(s), want) {
		t.Errorf("idle %v", p.Idle(s))
	}
	want := []schedule.Link{{Activity: 0, On: -1}, {Activity: 2, Cause: schedule.Waits, On: 0, Free: 4 * time.Hour}}
	if got := p.Chain(s); !slices.Equal(got, want) {
		t.Errorf("chain %v", got)
	}
}

// When a wait and a pair of hands come free together, the chain follows the wait.
func TestChainPrefersWaits(t *testing.T) {
	one := []schedule.Use{{Resource: 0, Amount: 1}}
	p := &schedule.Project{Capacity: []int{1}, Activities: []schedule.Activity{
		{Takes: time.Hour, Uses: one},
		{Takes: 2 * time.Hour, Uses: one},
		{Takes: time.Hour, Uses: one, After: []schedule.Wait{{On: 0, For: 2 * time.Hour}}},
		{Takes: time.Hour, Uses: one},
	}}
	s, err := p.Schedule(upTo(4), 100)
	if err != nil {
		t.Fatal(err)
	}
	want := []schedule.Link{
		{Activity: 0, On: -1},
		{Activity: 2, Cause: schedule.Waits, On: 0, Free: 3 * time.Hour},
		{Activity: 3, Cause: schedule.GivenBack, On: 2, Free: 4 * time.Hour},
	}
	if got := p.Chain(s); !slices.Equal(got, want) {
		t.Errorf("chain %v", got)
	}
}

func TestSchedulesThatCannotBe(t *testing.T) {
	ring := &schedule.Project{Activities: []schedule.Activity{{After: []schedule.Wait{{On: 1}}}, {After: []schedule.Wait{{On: 0}}}}}
	if _, err := ring.Schedule(upTo(2), 1); err == nil {
		t.Error("a ring has a schedule")
	}
	greedy := &schedule.Project{Capacity: []int{1}, Activities: []schedule.Activity{{Takes: 1, Uses: []schedule.Use{{Resource: 0, Amount: 2}}}}}
	if _, err := greedy.Schedule(upTo(1), 1); err == nil {
		t.Error("more than there is can be used")
	}
	years := &schedule.Project{Activities: slices.Repeat([]schedule.Activity{{Takes: 366 * 24 * time.Hour}}, 300)}
	if _, err := years.Schedule(upTo(300), 1); !errors.Is(err, schedule.ErrTooLong) {
		t.Errorf("300 years: %v", err)
	}
}

func ExampleProject_Schedule() {
	hands := []schedule.Use{{Resource: 0, Amount: 1}}
	p := &schedule.Project{
		Capacity: []int{1},
		Day:      schedule.Day(8 * time.Hour),
		Activities: []schedule.Activity{
			{Takes: 6 * time.Hour, Uses: hands},
			{Takes: 3 * time.Hour, Uses: hands, After: []schedule.Wait{{On: 0, For: 12 * time.Hour}}},
		},
	}
	s, err := p.Schedule([]int{0, 1}, 100)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Start, s.Length, s.Least())
	// Output: [0s 24h0m0s] 27h0m0s true
}

func BenchmarkSchedule1000(b *testing.B) {
	p := large(rand.New(rand.NewPCG(1, 8)), 1000, 2)
	for b.Loop() {
		if _, err := p.Schedule(upTo(1000), 20_000); err != nil {
			b.Fatal(err)
		}
	}
}
