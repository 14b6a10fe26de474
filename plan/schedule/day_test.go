package schedule

import (
	"testing"
	"time"
)

// Days are held against hours counted one by one.
func TestDay(t *testing.T) {
	for hours := 1; hours <= 24; hours++ {
		d := Day(time.Duration(hours) * time.Hour)
		open := func(h int) bool { return (h+240)%24 < hours }
		// end counts on from a start; 0 if the activity cannot start there.
		end := func(start, takes int) int {
			if takes == 0 {
				if open(start) || open(start-1) {
					return start
				}
				return 0
			}
			h, left := start, takes
			for ; left > 0; h++ {
				switch {
				case open(h):
					left--
				case left == takes || takes <= hours:
					return 0
				}
			}
			return h
		}
		h := func(n int) time.Duration { return time.Duration(n) * time.Hour }
		for takes := range 40 {
			for at := range 60 {
				start := at
				for end(start, takes) == 0 && (start > 0 || takes > 0) {
					start++
				}
				if got := d.Start(h(at), h(takes)); got != h(start) {
					t.Fatalf("%d h a day: %d h from %d h on start at %v, want %d h", hours, takes, at, got, start)
				}
				if got := d.End(h(start), h(takes)); got != h(end(start, takes)) {
					t.Fatalf("%d h a day: %d h from %d h end at %v, want %d h", hours, takes, start, got, end(start, takes))
				}
				by := at + 24*45
				last := by - takes
				for e := end(last, takes); e == 0 || e > by; e = end(last, takes) {
					last--
				}
				if got := d.latest(h(by), h(takes)); got != h(last) {
					t.Fatalf("%d h a day: %d h to end by %d h start at %v, want %d h", hours, takes, by, got, last)
				}
				work := 0
				for i := at; i < at+takes; i++ {
					if open(i) {
						work++
					}
				}
				if got := d.Working(h(at), h(at+takes)); got != h(work) {
					t.Fatalf("%d h a day: from %d h to %d h work goes on for %v, want %d h", hours, at, at+takes, got, work)
				}
			}
		}
	}
}
