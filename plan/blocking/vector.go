package blocking

import (
	"dryfit/kits/geom"
	"math"
)

// vec is a point or a direction in the model's axes, in mm.
type vec = geom.Vec

func sub(a, b vec) vec { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func add(a, b vec) vec { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func scale(a vec, f float64) vec { return vec{a[0] * f, a[1] * f, a[2] * f} }

func dot(a, b vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func cross(a, b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func norm(a vec) float64 { return math.Sqrt(dot(a, a)) }

// unit returns a direction of length 1. One along an axis of the model comes out
// exact, so that faces across it are met exactly.
func unit(a vec) vec {
	l := norm(a)
	u := vec{a[0] / l, a[1] / l, a[2] / l}
	for k := range 3 {
		if math.Abs(u[k]) > 1-1e-12 {
			s := math.Copysign(1, u[k])
			u = vec{}
			u[k] = s
			return u
		}
	}
	return u
}

// opposite is the other way, without negative zeros.
func opposite(a vec) vec { return sub(vec{}, a) }

// corners lists the corners of a box.
func corners(lo, hi vec) [8]vec {
	var list [8]vec
	for i := range list {
		for k := range 3 {
			if list[i][k] = lo[k]; i>>k&1 == 1 {
				list[i][k] = hi[k]
			}
		}
	}
	return list
}
