package draw

import (
	"context"
	"math"
)

// Choice is the view of a scene, and how far from its seat each mover is drawn, in mm.
type Choice struct {
	View     int
	Distance []float64
}

// Choose chooses the views of scenes that follow each other, so that the model is turned
// as seldom as the seats to be seen allow: the sum of the costs of hidden seats and of
// turning is least (dynamic programming). start is the view before the first
// scene, or -1. progress, which may be nil, is called with the share done, 0 to 1. The
// error is that of the context.
func (s *Model) Choose(ctx context.Context, scenes []Scene, start int, progress func(float64)) ([]Choice, error) {
	n := len(Views)
	s.roughBodies()
	scores := make([]score, len(scenes)*n)
	for i := range scenes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		shared(n, func(from, to int) {
			for v := from; v < to; v++ {
				scores[i*n+v] = s.judge(&scenes[i], v)
			}
		})
		if progress != nil {
			progress(float64(i+1) / float64(len(scenes)))
		}
	}
	return cheapest(scores, len(scenes), start), nil
}

// cheapest finds the views whose costs and turns add up to least.
func cheapest(scores []score, scenes, start int) []Choice {
	n := len(Views)
	cost := make([]float64, n)
	for v := range n {
		if start >= 0 {
			cost[v] = turning(start, v)
		}
	}
	from := make([][]int, scenes)
	for i := range scenes {
		next := make([]float64, n)
		from[i] = make([]int, n)
		for v := range n {
			best, at := math.Inf(1), 0
			for u := range n {
				c := cost[u]
				if i > 0 {
					c += turning(u, v)
				} else if u != v {
					continue
				}
				if c < best {
					best, at = c, u
				}
			}
			next[v], from[i][v] = best+scores[i*n+v].cost, at
		}
		cost = next
	}
	v := 0
	for u := range cost {
		if cost[u] < cost[v] {
			v = u
		}
	}
	out := make([]Choice, scenes)
	for i := scenes - 1; i >= 0; i-- {
		out[i] = Choice{v, scores[i*n+v].distance}
		v = from[i][v]
	}
	return out
}

func turning(u, v int) float64 {
	switch {
	case u == v:
		return 0
	case Views[u].Over() != Views[v].Over():
		return costOver
	}
	return costTurn
}
