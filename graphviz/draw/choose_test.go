package draw

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// turned is what a reader minds of a change of view.
func turned(from, to int) float64 {
	switch {
	case from < 0 || from == to:
		return 0
	case (Views[from].Up[2] < 0) != (Views[to].Up[2] < 0):
		return costOver
	}
	return costTurn
}

// least is the least that a reader minds over all sequences of views.
func least(scores []score, from int) float64 {
	if len(scores) == 0 {
		return 0
	}
	n := len(Views)
	best := math.Inf(1)
	for v := range n {
		best = min(best, turned(from, v)+scores[v].cost+least(scores[n:], v))
	}
	return best
}

// The views chosen cost no more than any other sequence of them.
func TestCheapestAgainstAllSequences(t *testing.T) {
	n := len(Views)
	for seed := range uint64(200) {
		r := random(seed)
		scenes, start := 1+r.IntN(3), r.IntN(n+1)-1
		scores := make([]score, scenes*n)
		for i := range scores {
			scores[i] = score{cost: 4 * r.Float64(), distance: []float64{float64(i)}}
			if r.IntN(3) == 0 {
				scores[i].cost = 0 // so that several are as good
			}
		}
		got := cheapest(scores, scenes, start)
		sum, from := 0.0, start
		for i, c := range got {
			sum += turned(from, c.View) + scores[i*n+c.View].cost
			from = c.View
			if !slices.Equal(c.Distance, scores[i*n+c.View].distance) {
				t.Errorf("seed %d: scene %d from view %d has the distance %v of another", seed, i, c.View, c.Distance)
			}
		}
		if want := least(scores, start); len(got) != scenes || math.Abs(sum-want) > 1e-9 {
			t.Errorf("seed %d: the views %v cost %.4f, want %.4f", seed, got, sum, want)
		}
	}
}

// boxes is a model of boxes between two corners each.
func boxes(t testing.TB, list ...[2]geom.Vec) *Model {
	t.Helper()
	s := &Model{}
	for _, b := range list {
		s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(b[0], b[1])))
	}
	return s
}

// modelOf is a model of surfaces.
func modelOf(t testing.TB, list ...[]mesh.Triangle) *Model {
	t.Helper()
	s := &Model{}
	for _, l := range list {
		s.Bodies = append(s.Bodies, bodyOf(t, l))
	}
	return s
}

// straight is a way of one stretch.
func straight(x, y, z float64) []geom.Leg { return []geom.Leg{leg(x, y, z, 100)} }

func leg(x, y, z, distance float64) geom.Leg {
	return geom.Leg{Toward: geom.Vec{x, y, z}, Distance: distance}
}

// What goes into a box that is open on one side is seen from that side: from above, and
// with the model turned over if it is open below.
func TestChooseLooksIntoTheOpening(t *testing.T) {
	cup := meshtest.Pocket([][2]float64{{-30, -20}, {30, -20}, {30, 20}, {-30, 20}}, [][2]float64{{-27, -17}, {27, -17}, {27, 17}, {-27, 17}}, 0, 3, 25)
	peg := meshtest.Box(geom.Vec{-5, -5, 3}, geom.Vec{5, 5, 15})
	for _, c := range []struct {
		what string
		turn [3][3]float64
		way  []geom.Leg
		ok   func(v View) bool
	}{
		{"open above", meshtest.Identity, straight(0, 0, -1), func(v View) bool { return !v.Over() && v.Ahead[2] < -0.4 }},
		{"open below", [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, straight(0, 0, 1), func(v View) bool { return v.Over() && v.Ahead[2] > 0.4 }},
		{"open ahead", [3][3]float64{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}, straight(-1, 0, 0), func(v View) bool { return v.Ahead[0] < -0.3 }},
	} {
		s := modelOf(t, meshtest.Transform(cup, c.turn, geom.Vec{}, 1), meshtest.Transform(peg, c.turn, geom.Vec{}, 1))
		scene := Scene{Still: []int{0}, Onto: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: c.way, Label: "1"}}}
		last := 0.0
		chosen, err := s.Choose(context.Background(), []Scene{scene, scene}, -1, func(done float64) {
			if done <= last || done > 1 {
				t.Errorf("%s: %v done after %v", c.what, done, last)
			}
			last = done
		})
		if err != nil || len(chosen) != 2 || last != 1 {
			t.Fatalf("%s: %v, %v, %v done", c.what, chosen, err, last)
		}
		if chosen[0].View != chosen[1].View {
			t.Errorf("%s: the model is turned between two scenes of the same", c.what)
		}
		if v := Views[chosen[0].View]; !c.ok(v) {
			t.Errorf("%s: seen %s, ahead %.2f", c.what, v.Name, v.Ahead)
		}
		if taken := s.Render(&scene, chosen[0], -1, Paper{120, 90}); taken.Seat < enoughSeat || taken.New < leastNew || len(taken.Away) > 0 {
			t.Errorf("%s: %.2f of the seat is seen, %.2f of the piece, without %v", c.what, taken.Seat, taken.New, taken.Away)
		}
	}
}

func TestChooseStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := boxes(t, [2]geom.Vec{{0, 0, 0}, {1, 1, 1}})
	if _, err := s.Choose(ctx, []Scene{{Movers: []Mover{{Pieces: []int{0}}}}}, -1, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("got the error %v", err)
	}
	if c, err := s.Choose(context.Background(), nil, 3, nil); err != nil || len(c) != 0 {
		t.Errorf("no scenes: %v, %v", c, err)
	}
}
