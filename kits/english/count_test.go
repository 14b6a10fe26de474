package english

import (
	"testing"
	"time"
)

func TestSpan(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "0 s", 90 * time.Second: "1 min", 90 * time.Minute: "1 h 30 min", 48 * time.Hour: "48 h", 73 * time.Hour: "3 d 1 h"} {
		if got := Span(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}

// Times are given to the nearest minute, and one that is none as such.
func TestMinutes(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "under 1 min", 29 * time.Second: "under 1 min", 90 * time.Second: "2 min", time.Hour - time.Second: "1 h", 72*time.Hour - time.Second: "3 d"} {
		if got := Minutes(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}
