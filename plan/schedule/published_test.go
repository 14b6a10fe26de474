package schedule_test

import (
	"slices"
	"testing"
	"time"

	"dryfit/plan/schedule"
)

// The weeks of the books are hours here.
const week = time.Hour

// arc is a row of a printed table: an activity from one event to another, how
// long it takes, and the times found for it, in weeks.
type arc struct {
	from, to, takes       int
	es, ef, ls, lf, slack int
}

// Both networks: B. W. Taylor III, Introduction to Management Science,
// instructor's solutions to chapter 8. All numbers of the rows, the lengths and
// the critical path of the first network are printed there; the critical path of
// the second network is made of its printed rows of zero slack.
var taylor = []struct {
	name   string
	length int
	events []int // of the critical path
	arcs   []arc
}{
	{"first", 20, []int{1, 3, 4, 5, 6}, []arc{
		{1, 2, 7, 0, 7, 2, 9, 2},
		{1, 3, 10, 0, 10, 0, 10, 0},
		{2, 4, 6, 7, 13, 9, 15, 2},
		{3, 4, 5, 10, 15, 10, 15, 0},
		{3, 5, 4, 10, 14, 14, 18, 4},
		{4, 5, 3, 15, 18, 15, 18, 0},
		{5, 6, 2, 18, 20, 18, 20, 0},
	}},
	{"second", 38, []int{1, 3, 5, 7, 8, 9}, []arc{
		{1, 2, 8, 0, 8, 1, 9, 1},
		{1, 3, 10, 0, 10, 0, 10, 0},
		{1, 4, 9, 0, 9, 6, 15, 6},
		{2, 5, 6, 8, 14, 9, 15, 1},
		{2, 6, 4, 8, 12, 16, 20, 8},
		{3, 5, 5, 10, 15, 10, 15, 0},
		{4, 5, 0, 9, 9, 15, 15, 6},
		{4, 7, 7, 9, 16, 20, 27, 11},
		{5, 7, 12, 15, 27, 15, 27, 0},
		{5, 8, 15, 15, 30, 16, 31, 1},
		{6, 9, 18, 12, 30, 20, 38, 8},
		{7, 8, 4, 27, 31, 27, 31, 0},
		{8, 9, 7, 31, 38, 31, 38, 0},
	}},
}

// activities makes each arc wait for all arcs that end where it begins.
func activities(arcs []arc) []schedule.Activity {
	list := make([]schedule.Activity, len(arcs))
	for i, a := range arcs {
		list[i].Takes = time.Duration(a.takes) * week
		for k, b := range arcs {
			if b.to == a.from {
				list[i].After = append(list[i].After, schedule.Wait{On: k})
			}
		}
	}
	return list
}

func (a arc) times() schedule.Times {
	w := func(n int) time.Duration { return time.Duration(n) * week }
	return schedule.Times{
		EarlyStart: w(a.es), EarlyFinish: w(a.ef),
		LateStart: w(a.ls), LateFinish: w(a.lf), Slack: w(a.slack),
	}
}

func critical(t *testing.T, list []schedule.Activity) *schedule.Plan {
	t.Helper()
	p, err := schedule.Critical(list)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestTaylor(t *testing.T) {
	for _, c := range taylor {
		t.Run(c.name, func(t *testing.T) {
			p := critical(t, activities(c.arcs))
			if p.Length != time.Duration(c.length)*week {
				t.Errorf("length %v, want %d weeks", p.Length, c.length)
			}
			for i, a := range c.arcs {
				if got, want := p.Times[i], a.times(); got != want {
					t.Errorf("activity %d-%d: %v, want %v", a.from, a.to, got, want)
				}
			}
			events := []int{1}
			for _, i := range p.Critical {
				events = append(events, c.arcs[i].to)
			}
			if !slices.Equal(events, c.events) {
				t.Errorf("critical path %v, want %v", events, c.events)
			}
		})
	}
}

// TestTaylorBackwards lists the rows from the last to the first: the result must
// not hang on the sequence of the input.
func TestTaylorBackwards(t *testing.T) {
	for _, c := range taylor {
		arcs := slices.Clone(c.arcs)
		slices.Reverse(arcs)
		p := critical(t, activities(arcs))
		for i, a := range arcs {
			if got, want := p.Times[i], a.times(); got != want {
				t.Errorf("%s, activity %d-%d: %v, want %v", c.name, a.from, a.to, got, want)
			}
		}
	}
}

// The Reliable Construction Co. of F. S. Hillier and G. J. Lieberman, Introduction
// to Operations Research. The weeks of all activities but H are as printed; those
// of H and what each activity waits for are from memory.
var reliable = []struct {
	name  string
	weeks int
	after string
	slack int // from memory
}{
	{"A", 2, "", 0},
	{"B", 4, "A", 0},
	{"C", 10, "B", 0},
	{"D", 6, "C", 4},
	{"E", 4, "C", 0},
	{"F", 5, "E", 0},
	{"G", 7, "D", 4},
	{"H", 9, "EG", 4},
	{"I", 7, "C", 2},
	{"J", 8, "FI", 0},
	{"K", 4, "J", 1},
	{"L", 5, "J", 0},
	{"M", 2, "H", 4},
	{"N", 6, "KL", 0},
}

func construction() []schedule.Activity {
	var list []schedule.Activity
	for _, r := range reliable {
		a := schedule.Activity{Takes: time.Duration(r.weeks) * week}
		for _, c := range r.after {
			a.After = append(a.After, schedule.Wait{On: int(c - 'A')})
		}
		list = append(list, a)
	}
	return list
}

func TestReliableConstruction(t *testing.T) {
	p := critical(t, construction())
	if p.Length != 44*week { // Hillier and Lieberman, from memory
		t.Errorf("length %v, want 44 weeks", p.Length)
	}
	path := ""
	for _, v := range p.Critical {
		path += reliable[v].name
	}
	if path != "ABCEFJLN" { // Hillier and Lieberman, from memory
		t.Errorf("critical path %s", path)
	}
	for i, r := range reliable {
		if got, want := p.Times[i].Slack, time.Duration(r.slack)*week; got != want {
			t.Errorf("slack of %s %v, want %v", r.name, got, want)
		}
	}
}

func TestReliableOneByOne(t *testing.T) {
	order := make([]int, len(reliable))
	for i := range order {
		order[i] = i
	}
	// The sum of the durations, 79 weeks: from memory.
	end, idle := schedule.OneByOne(construction(), order)
	if end != 79*week || idle != 0 {
		t.Errorf("end %v, idle %v", end, idle)
	}
}

// An activity that waits for a later one closes a ring: computed here.
func TestReliableInARing(t *testing.T) {
	list := construction()
	list[0].After = []schedule.Wait{{On: len(list) - 1}}
	if _, err := schedule.Critical(list); err == nil {
		t.Error("no error")
	}
}
