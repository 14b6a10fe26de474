package plan

import "time"

// WaitFor is a wait before a step: it starts no sooner than For after the end of
// step On.
type WaitFor struct {
	On  int
	For time.Duration
}

// Waits lists the waits of ten minutes or more before a step, keeping those that
// matter in the sequence: for each length only the latest step, and none covered
// by a longer wait on a later step.
func (q *Sequence) Waits(step int) []WaitFor {
	r := q.Solution.Constraints
	var list []WaitFor
	for _, n := range r.Needs {
		if n.After != step {
			continue
		}
		if lag := r.lag(n.Before, n.After); lag >= longWait {
			list = append(list, WaitFor{n.Before, lag})
		}
	}
	var kept []WaitFor
	for i, w := range list {
		covered := false
		for k, x := range list {
			later := q.Place[x.On] > q.Place[w.On] || x.On == w.On && k < i
			covered = covered || k != i && later && x.For >= w.For
		}
		if !covered {
			kept = append(kept, w)
		}
	}
	return kept
}
