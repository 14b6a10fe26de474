package schedule_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"dryfit/plan/schedule"
)

func critical(t *testing.T, list []schedule.Activity) *schedule.Plan {
	t.Helper()
	p, err := schedule.Critical(list)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A made network, worked by hand: two halves of a hull are built side by side and meet
// at 5. Times are hours; the early ones are found forwards, the late ones backwards
// from the end at 16.
var twoHalves = []struct {
	takes   int
	after   []schedule.Wait
	early   int // start
	late    int // start
	longest bool
}{
	{takes: 3, early: 0, late: 0, longest: true},                                                      // 0 port half
	{takes: 2, early: 0, late: 3},                                                                     // 1 starboard half
	{takes: 4, after: on(0), early: 3, late: 3, longest: true},                                        // 2 port frames, until 7
	{takes: 1, after: []schedule.Wait{{On: 1, For: 2 * hour}}, early: 4, late: 7},                     // 3 starboard frames, glued for 2
	{takes: 1, after: on(1), early: 2, late: 9},                                                       // 4 seats, until 3
	{takes: 2, after: []schedule.Wait{{On: 2, For: hour}, {On: 3}}, early: 8, late: 8, longest: true}, // 5 closing, until 10
	{takes: 3, after: on(4, 5), early: 10, late: 10, longest: true},                                   // 6 seams, until 13
	{takes: 2, after: on(3), early: 5, late: 14},                                                      // 7 stand
	{takes: 3, after: on(6), early: 13, late: 13, longest: true},                                      // 8 paint, until 16
}

const hour = time.Hour

func on(list ...int) []schedule.Wait {
	var waits []schedule.Wait
	for _, v := range list {
		waits = append(waits, schedule.Wait{On: v})
	}
	return waits
}

func TestTwoHalves(t *testing.T) {
	var list []schedule.Activity
	var longest []int
	for v, a := range twoHalves {
		list = append(list, schedule.Activity{Takes: time.Duration(a.takes) * hour, After: a.after})
		if a.longest {
			longest = append(longest, v)
		}
	}
	p := critical(t, list)
	if p.Length != 16*hour || !slices.Equal(p.Critical, longest) {
		t.Errorf("%v by %v, want 16h by %v", p.Length, p.Critical, longest)
	}
	for v, a := range twoHalves {
		early, late, takes := time.Duration(a.early)*hour, time.Duration(a.late)*hour, time.Duration(a.takes)*hour
		want := schedule.Times{EarlyStart: early, EarlyFinish: early + takes, LateStart: late, LateFinish: late + takes, Slack: late - early}
		if p.Times[v] != want {
			t.Errorf("activity %d: %v, want %v", v, p.Times[v], want)
		}
	}
}

// before is the longest chain of work and waits ahead of an activity, and behind that
// after its start, both found by following every path.
func before(list []schedule.Activity, v int) time.Duration {
	longest := time.Duration(0)
	for _, w := range list[v].After {
		longest = max(longest, before(list, w.On)+list[w.On].Takes+w.For)
	}
	return longest
}

func behind(list []schedule.Activity, v int) time.Duration {
	longest := list[v].Takes
	for x, a := range list {
		for _, w := range a.After {
			if w.On == v {
				longest = max(longest, list[v].Takes+w.For+behind(list, x))
			}
		}
	}
	return longest
}

// Random networks against every path through them, listed in any sequence.
func TestCriticalAgainstPaths(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	for range 500 {
		list := shuffled(rnd, network(rnd))
		p := critical(t, list)
		length := time.Duration(0)
		for v := range list {
			length = max(length, behind(list, v))
		}
		if p.Length != length {
			t.Fatalf("%v, want %v: %v", p.Length, length, list)
		}
		for v, a := range list {
			early, late := before(list, v), length-behind(list, v)
			want := schedule.Times{EarlyStart: early, EarlyFinish: early + a.Takes, LateStart: late, LateFinish: late + a.Takes, Slack: late - early}
			if p.Times[v] != want {
				t.Fatalf("activity %d: %v, want %v: %v", v, p.Times[v], want, list)
			}
		}
		checkChain(t, list, p)
	}
}

// checkChain: the critical chain starts at once, ends last, and leaves no gap.
func checkChain(t *testing.T, list []schedule.Activity, p *schedule.Plan) {
	t.Helper()
	at := time.Duration(0)
	for i, v := range p.Critical {
		if i > 0 {
			k := slices.IndexFunc(list[v].After, func(w schedule.Wait) bool {
				return w.On == p.Critical[i-1] && p.Times[w.On].EarlyFinish+w.For == p.Times[v].EarlyStart
			})
			if k < 0 {
				t.Fatalf("%d is not held up by the one before it in %v: %v", v, p.Critical, list)
			}
			at += list[v].After[k].For
		}
		at += list[v].Takes
	}
	if at != p.Length {
		t.Fatalf("the chain %v takes %v of %v: %v", p.Critical, at, p.Length, list)
	}
}

// network makes up to nine activities, each after some of those before it.
func network(rnd *rand.Rand) []schedule.Activity {
	var list []schedule.Activity
	for v := range 2 + rnd.IntN(8) {
		a := schedule.Activity{Takes: time.Duration(rnd.IntN(6)) * hour}
		for w := range v {
			if rnd.IntN(3) == 0 {
				a.After = append(a.After, schedule.Wait{On: w, For: time.Duration(rnd.IntN(3)*rnd.IntN(4)) * hour})
			}
		}
		list = append(list, a)
	}
	return list
}

// shuffled is the same network, listed in another sequence.
func shuffled(rnd *rand.Rand, list []schedule.Activity) []schedule.Activity {
	place := rnd.Perm(len(list))
	out := make([]schedule.Activity, len(list))
	for v, a := range list {
		waits := slices.Clone(a.After)
		for i := range waits {
			waits[i].On = place[waits[i].On]
		}
		out[place[v]] = schedule.Activity{Takes: a.Takes, After: waits}
	}
	return out
}
