package rehearse

import (
	"slices"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// A work schedule is replayed as its steps start. One that cannot be is an error, and one
// fault however often it is asked for; the order itself stays.
func TestSchedule(t *testing.T) {
	p, err := explain.Check(kitstest.Read(t, `kit: Box
painting: {takes: 1h}
parts: {box: {}, seat: {paint: before-fit}, lid: {}}
joins:
  - {fit: seat, to: box, takes: 10m}
  - {fit: lid, to: box, takes: 10m}
spaces:
  room: {closed-by: [lid], holds: seat}
`))
	if err != nil {
		t.Fatal(err)
	}
	s, err := Usual(p)
	if err != nil || s.Hands != 1 || s.Day != plan.WorkingDay || !p.OK() || s.Painted != 1 {
		t.Fatalf("%+v, %v, %+v", s, err, p.Findings)
	}
	slices.Reverse(s.Order)
	const want = "the work schedule and its rehearsal disagree at step 1 (fitting seat: seat cannot get into room, which is shut by lid): please report this with the kit file"
	for range 2 {
		if _, err := confirmed(p, s); err == nil || err.Error() != want {
			t.Fatal(err)
		}
	}
	if p.OK() || p.Count(plan.Fault) != 1 || p.Findings[0].Text != want || p.Findings[0].Kind != plan.Rehearsal || p.Sequence == nil {
		t.Errorf("%+v", p.Findings)
	}
}

// Without an order there is no schedule.
func TestNoSchedule(t *testing.T) {
	if s, err := Usual(&plan.Project{}); s != nil || err != nil {
		t.Errorf("%+v, %v", s, err)
	}
}
