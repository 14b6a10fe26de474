package schedule

import (
	"testing"
	"time"
)

// Of two places with the same activities started, the second is left only if the first
// is ahead in everything that can still hold up others.
func TestKnown(t *testing.T) {
	for _, c := range []struct {
		text      string
		end, now  [2]time.Duration // of activity 0, and the last start, in the two places
		leave     bool
		lag, soon time.Duration // of what waits for activity 0; end of activity 1
	}{
		{"the same", [2]time.Duration{3, 3}, [2]time.Duration{2, 2}, true, 0, 4},
		{"started later", [2]time.Duration{3, 3}, [2]time.Duration{2, 1}, false, 0, 4},
		{"started sooner", [2]time.Duration{3, 3}, [2]time.Duration{1, 2}, true, 0, 4},
		{"under way longer", [2]time.Duration{3, 2}, [2]time.Duration{2, 2}, false, 0, 4},
		{"ended later, no matter when", [2]time.Duration{3, 2}, [2]time.Duration{4, 4}, true, 0, 5},
		{"ended later, and glue sets", [2]time.Duration{3, 2}, [2]time.Duration{4, 4}, false, 5, 5},
		{"ended later, glue has set", [2]time.Duration{3, 2}, [2]time.Duration{4, 9}, true, 5, 10},
	} {
		s := &search{seen: map[uint64][]state{}, lags: []time.Duration{c.lag, 0}, end: make([]time.Duration, 2), done: 3}
		var known bool
		for i := range 2 {
			s.end[0], s.end[1], s.now = c.end[i], c.soon, c.now[i]
			known = s.known()
		}
		if known != c.leave {
			t.Errorf("%s: left is %v", c.text, known)
		}
	}
}
