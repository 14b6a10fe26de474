package schedule

import (
	"math/rand/v2"
	"testing"
	"time"
)

// A profile is held against a table of hours.
func TestProfile(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 9))
	for range 300 {
		var p profile
		var table [40]int
		for range 12 {
			from := rnd.IntN(30)
			to := from + rnd.IntN(10)
			most := rnd.IntN(3)
			want := from
			for h := to - 1; h >= from; h-- {
				if table[h] > most {
					want = h
				}
			}
			if from < to && table[want] > most {
				for table[want] > most {
					want++
				}
			} else {
				want = from
			}
			if got := p.free(time.Duration(from), time.Duration(to), most); got != time.Duration(want) {
				t.Fatalf("%v: no more than %d from %d to %d: %d, want %d", p, most, from, to, got, want)
			}
			p.add(time.Duration(from), time.Duration(to), 1)
			for h := from; h < to; h++ {
				table[h]++
			}
		}
	}
}
