package geom

import "math"

// Leg is a straight stretch of a way: a direction of length 1, and how far it goes. The
// leg that leads out of the model, or in from outside, is infinite.
type Leg struct {
	Toward   Vec     `json:"toward"`
	Distance float64 `json:"distance"` // mm
}

// Endless reports whether the leg has no other end.
func (l Leg) Endless() bool { return math.IsInf(l.Distance, 1) }

// Reverse is the same way gone the other way round: from its last leg to its first,
// each in the opposite direction.
func Reverse(way []Leg) []Leg {
	back := make([]Leg, len(way))
	for i, l := range way {
		back[len(way)-1-i] = Leg{l.Toward.Opposite(), l.Distance}
	}
	return back
}
