// Package geom has the geometry that all packages share: points and directions, boxes
// along the axes, affine maps, and the straight legs of a path. Lengths are mm in the
// model's axes. All are plain values.
package geom

import "math"

// Vec is a point or a direction.
type Vec [3]float64

// Point is a corner of a mesh, which has single precision, as a vector.
func Point(p [3]float32) Vec { return Vec{float64(p[0]), float64(p[1]), float64(p[2])} }

// Single is the vector in the precision of meshes.
func (a Vec) Single() [3]float32 { return [3]float32{float32(a[0]), float32(a[1]), float32(a[2])} }

// Plus is the sum of two vectors.
func (a Vec) Plus(b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Minus is the difference of two vectors.
func (a Vec) Minus(b Vec) Vec { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// Times is the vector f times as long.
func (a Vec) Times(f float64) Vec { return Vec{a[0] * f, a[1] * f, a[2] * f} }

// Toward is the point at fraction t of the way to b.
func (a Vec) Toward(b Vec, t float64) Vec { return a.Plus(b.Minus(a).Times(t)) }

// Opposite points the other way; it has no negative zeros.
func (a Vec) Opposite() Vec { return Vec{}.Minus(a) }

// Dot is the scalar product.
func (a Vec) Dot(b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// Cross is the vector product, right-handed.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Finite reports whether no component of v is infinite or not a number.
func Finite(v float64) bool { return v-v == 0 }

// Length is the Euclidean length.
func (a Vec) Length() float64 { return math.Sqrt(a.Dot(a)) }

// Unit is the unit vector, undefined for a zero vector. It is exact along an
// axis.
func (a Vec) Unit() Vec {
	l := a.Length()
	u := Vec{a[0] / l, a[1] / l, a[2] / l}
	for k := range 3 {
		if math.Abs(u[k]) > 1-1e-12 {
			s := math.Copysign(1, u[k])
			u = Vec{}
			u[k] = s
			return u
		}
	}
	return u
}

// sameDirection is the squared distance between the ends of two unit vectors
// below which they count as equal: slightly over a fiftieth of a degree.
const sameDirection = 1.3e-7

// SameDirection reports whether two vectors point the same way, within a fiftieth of a
// degree.
func (a Vec) SameDirection(b Vec) bool {
	d := a.Unit().Minus(b.Unit())
	return d.Dot(d) < sameDirection
}
