package geom

import "math"

// Nothing is the empty box; With a point it is the box of that point.
func Nothing() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// Around is the box that holds both boxes.
func (b Box) Around(o Box) Box { return b.With(o.Min).With(o.Max) }

// Moved is the box moved by a vector.
func (b Box) Moved(by Vec) Box { return Box{b.Min.Plus(by), b.Max.Plus(by)} }

// Along is how far the box reaches along a direction.
func (b Box) Along(direction Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range b.Corners() {
		h := c.Dot(direction)
		low, high = min(low, h), max(high, h)
	}
	return low, high
}
