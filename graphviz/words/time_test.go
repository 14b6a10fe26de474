package words_test

import (
	"testing"
	"time"

	"dryfit/graphviz/words"
	"dryfit/plan"
	"dryfit/plan/schedule"
)

func TestTime(t *testing.T) {
	german, err := words.In("de")
	if err != nil {
		t.Fatal(err)
	}
	of := func(hands int, day, work, length time.Duration) *plan.Schedule {
		return &plan.Schedule{Schedule: &schedule.Schedule{Length: length}, Hands: hands, Day: day, HandsOn: work}
	}
	for _, c := range []struct {
		in   words.Language
		s    *plan.Schedule
		want string
	}{
		{words.English, of(1, plan.WorkingDay, 2*time.Hour, 5*time.Hour), "Hands-on 2 h where stated; elapsed 5 h with one pair of hands at work 8 h a day, waits included"},
		{words.English, of(3, 0, 2*time.Hour, 5*time.Hour), "Hands-on 2 h where stated; elapsed 5 h with 3 pairs of hands at work round the clock, waits included"},
		{words.English, of(1, plan.WorkingDay, 0, 5*time.Hour), "Elapsed 5 h with one pair of hands at work 8 h a day, for waits alone: no hands-on time is stated"},
		{german, of(1, plan.WorkingDay, 2*time.Hour, 5*time.Hour), "2 h Handarbeit, soweit angegeben; insgesamt 5 h mit einem Paar Hände, 8 h am Tag bei der Arbeit, Wartezeiten eingerechnet"},
		{words.English, of(1, 0, 0, 0), ""},
		{words.English, nil, ""},
	} {
		if got := c.in.Time(c.s); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
