package format

import (
	"testing"
	"time"
)

// A time is written as it is read.
func TestTime(t *testing.T) {
	for want, d := range map[string]time.Duration{"0h": 0, "30s": 30 * time.Second, "2.5s": 2500 * time.Millisecond, "1h 30m": 90 * time.Minute, "24h": 24 * time.Hour, "1h 1s": time.Hour + time.Second} {
		if got := Time(d); got != want || nanoseconds(got) != float64(d) {
			t.Errorf("%v is written %s, which is %g s; want %s", d, got, nanoseconds(got)/1e9, want)
		}
	}
}
