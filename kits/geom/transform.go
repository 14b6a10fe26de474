package geom

// Transform is an affine map as a 4 x 3 matrix: a point is a row vector, and the fourth
// row is the translation.
type Transform [4]Vec

// Scaling multiplies every length by f, about the origin.
func Scaling(f float64) Transform {
	return Transform{{f, 0, 0}, {0, f, 0}, {0, 0, f}}
}

// Apply maps a point.
func (t *Transform) Apply(p Vec) Vec {
	var q Vec
	for k := range q {
		q[k] = p[0]*t[0][k] + p[1]*t[1][k] + p[2]*t[2][k] + t[3][k]
	}
	return q
}

// Then is t followed by u.
func (t *Transform) Then(u *Transform) Transform {
	var v Transform
	for r := range v {
		p := u.Apply(t[r])
		if r < 3 { // directions are not translated
			p = p.Minus(u[3])
		}
		v[r] = p
	}
	return v
}

// Determinant is the factor by which volumes grow, negative for a mirroring map.
func (t *Transform) Determinant() float64 { return t[0].Dot(t[1].Cross(t[2])) }
