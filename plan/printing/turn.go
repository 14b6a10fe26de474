package printing

import (
	"math"

	"dryfit/kits/geom"
)

// Turn is a rotation: its rows are the printer's x, y and z axes as directions of
// the model. The last row is what points up while printing.
type Turn [3]geom.Vec

// asModelled leaves a part oriented as in the model.
var asModelled = Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// apply turns a point of the model into the printer's axes.
func (t *Turn) apply(p geom.Vec) geom.Vec { return geom.Vec{t[0].Dot(p), t[1].Dot(p), t[2].Dot(p)} }

// after is the turn that does u first and t then.
func (t Turn) after(u Turn) Turn {
	var out Turn
	for i := range 3 {
		for j := range 3 {
			out[i][j] = t[i][0]*u[0][j] + t[i][1]*u[1][j] + t[i][2]*u[2][j]
		}
	}
	return out
}

// about turns by an angle about one of the printer's axes, right-handed.
func about(axis int, angle float64) Turn {
	s, c := math.Sincos(angle)
	t := asModelled
	i, j := (axis+1)%3, (axis+2)%3
	t[i][i], t[i][j], t[j][i], t[j][j] = c, -s, s, c
	return t
}

// around turns by the length of a vector about its direction (Rodrigues).
func around(v geom.Vec) Turn {
	angle := v.Length()
	if angle == 0 {
		return asModelled
	}
	a := v.Times(1 / angle)
	s, c := math.Sincos(angle)
	var t Turn
	for i := range 3 {
		for j := range 3 {
			t[i][j] = a[i] * a[j] * (1 - c)
		}
		t[i][i] += c
		t[i][(i+1)%3] -= s * a[(i+2)%3]
		t[i][(i+2)%3] += s * a[(i+1)%3]
	}
	return t
}

// standing is a turn that brings the direction down to the bed. It multiplies by
// reciprocal lengths: geom's Unit differs in the last bit, which would change the
// outlines of plates.
func standing(down geom.Vec) Turn {
	z := down.Times(-1 / down.Length())
	side := 0 // start with the model's axis that is most nearly perpendicular
	for k := 1; k < 3; k++ {
		if math.Abs(z[k]) < math.Abs(z[side])-1e-9 {
			side = k
		}
	}
	var x geom.Vec
	x[side] = 1
	x = x.Minus(z.Times(x.Dot(z)))
	x = x.Times(1 / x.Length())
	return Turn{x, z.Cross(x), z}
}

// Angles are what to type into a program that prepares prints: degrees about its
// x axis, then its y axis, then its z axis, each right-handed, from the part's
// orientation in the model.
func (t Turn) Angles() (x, y, z float64) {
	y = -math.Asin(min(max(t[2][0], -1), 1))
	if math.Abs(t[2][0]) > 1-1e-9 { // x and z turn about one axis
		return degrees(math.Atan2(-t[1][2], t[1][1])) + 0, degrees(y) + 0, 0
	}
	x, z = math.Atan2(t[2][1], t[2][2]), math.Atan2(t[1][0], t[0][0])
	return degrees(x) + 0, degrees(y) + 0, degrees(z) + 0
}

// turnOf is the turn for three angles in degrees, as Angles gives them.
func turnOf(x, y, z float64) Turn {
	return about(2, radians(z)).after(about(1, radians(y))).after(about(0, radians(x)))
}

// rounded is a turn whose angles are whole hundredths of a degree.
func (t Turn) rounded() Turn {
	x, y, z := t.Angles()
	r := func(a float64) float64 { return math.Round(a*100) / 100 }
	return turnOf(r(x), r(y), r(z))
}

// extents is the box around points along the printer's axes.
func (t *Turn) extents(points []geom.Vec) (box geom.Box) {
	for k, axis := range t {
		low, high := math.Inf(1), math.Inf(-1)
		for i := range points {
			v := points[i].Dot(axis)
			low, high = min(low, v), max(high, v)
		}
		box.Min[k], box.Max[k] = low, high
	}
	return box
}

// size is the size of the box around turned points.
func (t *Turn) size(points []geom.Vec) geom.Vec { return t.extents(points).Size() }
