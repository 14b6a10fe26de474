package schedule

import (
	"slices"
	"time"
)

// profile is how much of a resource is in use over time: from at[i] to at[i+1] it is
// used[i], before at[0] and after the last it is 0.
type profile struct {
	at   []time.Duration
	used []int
}

// free returns from if no more than most is in use between from and to, or else
// the end of the first stretch with more.
func (p *profile) free(from, to time.Duration, most int) time.Duration {
	if from == to {
		return from // what takes no time uses nothing
	}
	i, found := slices.BinarySearch(p.at, from)
	if !found {
		i = max(i-1, 0)
	}
	for ; i < len(p.at) && p.at[i] < to; i++ {
		if p.used[i] > most {
			for p.used[i] > most {
				i++
			}
			return p.at[i]
		}
	}
	return from
}

// add puts more in use between from and to.
func (p *profile) add(from, to time.Duration, amount int) {
	if from == to || amount == 0 {
		return
	}
	i, k := p.cut(from), p.cut(to)
	for ; i < k; i++ {
		p.used[i] += amount
	}
	p.join(k)
	i, _ = slices.BinarySearch(p.at, from)
	p.join(i)
}

// cut makes t the start of a stretch and returns its index.
func (p *profile) cut(t time.Duration) int {
	i, found := slices.BinarySearch(p.at, t)
	if found {
		return i
	}
	used := 0
	if i > 0 {
		used = p.used[i-1]
	}
	p.at = slices.Insert(p.at, i, t)
	p.used = slices.Insert(p.used, i, used)
	return i
}

// join makes one stretch of two with the same use.
func (p *profile) join(i int) {
	if i > 0 && p.used[i] == p.used[i-1] || i == 0 && p.used[i] == 0 {
		p.at = slices.Delete(p.at, i, i+1)
		p.used = slices.Delete(p.used, i, i+1)
	}
}
