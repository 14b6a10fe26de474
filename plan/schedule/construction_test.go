package schedule_test

import (
	"testing"
	"time"

	"dryfit/plan/schedule"
)

// The weeks of the book are hours here.
const week = time.Hour

// The Reliable Construction Co. of F. S. Hillier and G. J. Lieberman, Introduction to
// Operations Research, 7th edition, McGraw-Hill, 2001, chapter 10. All of it, edition
// and chapter too, is from memory; TestCriticalAgainstPaths checks the method itself.
var reliable = []struct {
	name  string
	weeks int
	after string
	slack int
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
	if p.Length != 44*week {
		t.Errorf("length %v, want 44 weeks", p.Length)
	}
	path := ""
	for _, v := range p.Critical {
		path += reliable[v].name
	}
	if path != "ABCEFJLN" {
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
	// The sum of the durations is 79 weeks.
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
