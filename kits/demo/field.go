package demo

import "math"

// field is the distance of a point from a body, negative inside. It may be too small,
// never too large. Figures, seats and engines are put together from fields,
// because what is blended in a field becomes one shell.
type field func(p vec) float64

func ball(c vec, r float64) field {
	return func(p vec) float64 { return p.Minus(c).Length() - r }
}

// limb is a bar with round ends of two thicknesses (radii).
func limb(a, b vec, ra, rb float64) field {
	along := b.Minus(a)
	square := along.Dot(along)
	return func(p vec) float64 {
		d := p.Minus(a)
		t := min(max(d.Dot(along)/square, 0), 1)
		return d.Minus(along.Times(t)).Length() - between(ra, rb, t)
	}
}

// barrel is a bar of one radius with flat ends.
func barrel(a, b vec, r float64) field {
	axis := b.Minus(a)
	l := axis.Length()
	axis = axis.Times(1 / l)
	return func(p vec) float64 {
		d := p.Minus(a)
		h := d.Dot(axis)
		across := math.Sqrt(max(d.Dot(d)-h*h, 0)) - r
		return edge(across, max(-h, h-l))
	}
}

// edge is the distance to a convex edge from the distances to its two faces.
func edge(a, b float64) float64 {
	if a > 0 && b > 0 {
		return math.Sqrt(a*a + b*b)
	}
	return max(a, b)
}

// cushion is a box with rounded edges.
func cushion(from, to vec, r float64) field {
	c := from.Plus(to).Times(0.5)
	h := to.Minus(from).Times(0.5)
	return func(p vec) float64 {
		var out vec
		in := math.Inf(-1)
		for k := range p {
			d := math.Abs(p[k]-c[k]) - h[k] + r
			out[k] = max(d, 0)
			in = max(in, d)
		}
		return out.Length() + min(in, 0) - r
	}
}

// tyre is a ring about an axis along x, y or z.
func tyre(axis int, c vec, ring, r float64) field {
	u, v := (axis+1)%3, (axis+2)%3
	return func(p vec) float64 {
		d := p.Minus(c)
		return math.Hypot(math.Hypot(d[u], d[v])-ring, d[axis]) - r
	}
}

func all(list ...field) field {
	return func(p vec) float64 {
		d := math.Inf(1)
		for _, f := range list {
			d = min(d, f(p))
		}
		return d
	}
}

// blend joins bodies with a fillet of about size k.
func blend(k float64, list ...field) field {
	return func(p vec) float64 {
		d := list[0](p)
		for _, f := range list[1:] {
			e := f(p)
			h := max(k-math.Abs(d-e), 0) / k
			d = min(d, e) - h*h*k/4
		}
		return d
	}
}

func without(f field, holes ...field) field {
	return func(p vec) float64 {
		d := f(p)
		for _, h := range holes {
			d = max(d, -h(p))
		}
		return d
	}
}
