package meshtest

import (
	"math"

	"dryfit/kits/mesh"
)

// Identity turns nothing.
var Identity = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

// Transform scales, then turns, then moves: x becomes turn*(scale*x) + move. The
// same corner comes out the same in every triangle, so that what was closed stays
// closed. A turn that mirrors gets the triangles' sense reversed.
func Transform(list []mesh.Triangle, turn [3][3]float64, move [3]float64, scale float64) []mesh.Triangle {
	out := make([]mesh.Triangle, len(list))
	mirrored := determinant(turn) < 0
	for i, t := range list {
		for c := range t {
			x := [3]float64{float64(t[c][0]), float64(t[c][1]), float64(t[c][2])}
			out[i][c] = corner(Apply(turn, move, scale, x))
		}
		if mirrored {
			out[i][1], out[i][2] = out[i][2], out[i][1]
		}
	}
	return out
}

// Apply is what Transform does to one point.
func Apply(turn [3][3]float64, move [3]float64, scale float64, x [3]float64) [3]float64 {
	var y [3]float64
	for r := range 3 {
		y[r] = turn[r][0]*x[0]*scale + turn[r][1]*x[1]*scale + turn[r][2]*x[2]*scale + move[r]
	}
	return y
}

// Normal gives numbers of the standard normal distribution: a generator of math/rand
// or of math/rand/v2.
type Normal interface{ NormFloat64() float64 }

// RandomRotation draws a rotation, all equally likely: a random unit quaternion.
func RandomRotation(r Normal) [3][3]float64 {
	var q [4]float64
	var length float64
	for length < 1e-3 {
		for k := range q {
			q[k] = r.NormFloat64()
		}
		length = math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	}
	w, x, y, z := q[0]/length, q[1]/length, q[2]/length, q[3]/length
	return [3][3]float64{
		{1 - 2*(y*y+z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), 1 - 2*(x*x+z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), 1 - 2*(x*x+y*y)},
	}
}

// Merge puts several surfaces into one mesh, as they are.
func Merge(lists ...[]mesh.Triangle) []mesh.Triangle {
	var all []mesh.Triangle
	for _, list := range lists {
		all = append(all, list...)
	}
	return all
}

// Inverted turns a surface inside out; merged into a larger solid it is a hollow.
func Inverted(list []mesh.Triangle) []mesh.Triangle {
	out := make([]mesh.Triangle, len(list))
	for i, t := range list {
		out[i] = mesh.Triangle{t[0], t[2], t[1]}
	}
	return out
}

func determinant(m [3][3]float64) float64 {
	return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) -
		m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) +
		m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
}

func corner(x [3]float64) [3]float32 {
	var c [3]float32
	for k := range x {
		c[k] = float32(x[k]) + 0 // + 0 makes -0 into 0
	}
	return c
}

func triangle(a, b, c [3]float64) mesh.Triangle {
	return mesh.Triangle{corner(a), corner(b), corner(c)}
}
