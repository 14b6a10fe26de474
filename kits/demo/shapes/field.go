package shapes

import "math"

// field is a shape by distance: negative inside, positive outside, about as far from
// its surface as it says. Figures and other soft things are made of these.
type field func(p point) float64

// limb is a round bar from a to b that tapers from one radius to another.
func limb(a, b point, ra, rb float64) field {
	along := b.minus(a)
	square := along.dot(along)
	return func(p point) float64 {
		t := min(max(p.minus(a).dot(along)/square, 0), 1)
		return p.minus(a.to(b, t)).length() - mix(ra, rb, t)
	}
}

// ball is an ellipsoid along the axes.
func ball(c, r point) field {
	small := min(r[0], r[1], r[2])
	return func(p point) float64 {
		q := p.minus(c)
		return (point{q[0] / r[0], q[1] / r[1], q[2] / r[2]}.length() - 1) * small
	}
}

// brick is a box with rounded edges.
func brick(from, to point, rounding float64) field {
	middle, half := from.to(to, 0.5), to.minus(from).times(0.5)
	return func(p point) float64 {
		var out, in float64 = 0, math.Inf(-1)
		for k := range p {
			d := math.Abs(p[k]-middle[k]) - half[k] + rounding
			out += max(d, 0) * max(d, 0)
			in = max(in, d)
		}
		return math.Sqrt(out) + min(in, 0) - rounding
	}
}

// joined melts fields into each other over a width.
func joined(width float64, list ...field) field {
	return func(p point) float64 {
		d := list[0](p)
		for _, f := range list[1:] {
			e := f(p)
			h := max(width-math.Abs(d-e), 0) / width
			d = min(d, e) - h*h*width/4
		}
		return d
	}
}

// within keeps what lies between two corners of a box: flat faces to stand on.
func (f field) within(from, to point) field {
	return func(p point) float64 {
		d := f(p)
		for k := range p {
			d = max(d, from[k]-p[k], p[k]-to[k])
		}
		return d
	}
}

// without takes another shape away.
func (f field) without(g field) field {
	return func(p point) float64 { return max(f(p), -g(p)) }
}
