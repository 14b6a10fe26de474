package balance

import "math"

// Needed is the ballast, in g, at a given place that makes a model of a given
// mass and centre balance at a target: m (x - t) / (t - b), the levers about the
// target. It is 0 if the model already balances there or on the ballast's side of
// it. possible is false if no ballast there is enough, because its place is not
// beyond the target.
func Needed(mass, at, target, ballastAt float64) (ballast float64, possible bool) {
	lever, arm := at-target, target-ballastAt
	if math.Abs(arm) < leastArm {
		return 0, lever == 0
	}
	if lever == 0 || (lever > 0) != (arm > 0) {
		return 0, true
	}
	return mass * lever / arm, true
}

// leastArm is the least distance, in mm, of ballast from the target that counts as one.
const leastArm = 0.01

// Point is a mass and where it balances along an axis.
type Point struct {
	Mass float64 // g
	At   float64 // mm; means nothing without mass
}

// With adds another mass.
func (p Point) With(q Point) Point {
	sum := p.Mass + q.Mass
	if sum == 0 {
		return Point{}
	}
	return Point{sum, p.At*(p.Mass/sum) + q.At*(q.Mass/sum)}
}
