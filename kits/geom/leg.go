package geom

import "math"

// Leg is a straight part of a path: a unit direction and a distance in mm. The
// leg that leads out of the model, or in from outside, is infinite.
type Leg struct {
	Toward   Vec     `json:"toward"`
	Distance float64 `json:"distance"` // mm
}

// Endless reports whether the leg is infinite.
func (l Leg) Endless() bool { return math.IsInf(l.Distance, 1) }

// Reverse is the same path in the opposite direction: the legs in reverse order,
// each reversed.
func Reverse(way []Leg) []Leg {
	back := make([]Leg, len(way))
	for i, l := range way {
		back[len(way)-1-i] = Leg{l.Toward.Opposite(), l.Distance}
	}
	return back
}
