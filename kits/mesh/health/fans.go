package health

import "math"

// upright is the least cosine between a triangle of a fan and the fan as a whole: less is
// too steep to trust the rounded sides of what is seen.
const upright = 0.1

// fans reports of each corner whether the triangles around it are a fan: seen along the mean
// of their normals all face the eye, and each direction from the corner is covered once. The
// triangles of a fan meet at their shared corner and edges only, so their pairs need no
// comparison, which are most of those whose boxes meet.
//
// Where all edges at a corner have two sides that run against each other, the triangles
// around it make closed rings. Seen as said, a ring goes around the corner as often as it
// crosses half of any line through it, so it is enough to count how many triangles cross one.
func (s *surface) fans(e *edges) []bool {
	around := s.meanNormals()
	crossings := make([]uint8, len(s.corners))
	const never = math.MaxUint8
	for i, f := range s.faces {
		x, y, z := s.normal(i)
		least := upright * upright * (x*x + y*y + z*z)
		last := f[2]
		for k, c := range f {
			next := f[(k+1)%3]
			if crossings[c] <= 1 {
				tx, ty, tz := float64(around[c][0]), float64(around[c][1]), float64(around[c][2])
				if up := x*tx + y*ty + z*tz; up <= 0 || up*up <= least*(tx*tx+ty*ty+tz*tz) {
					crossings[c] = never
				} else if s.before(next, c, tx, ty, tz) && !s.before(last, c, tx, ty, tz) {
					crossings[c]++
				}
			}
			last = c
		}
	}
	fan := make([]bool, len(s.corners))
	for c := range fan {
		fan[c] = crossings[c] == 1 && (e.odd == nil || !e.odd[c])
	}
	return fan
}

// meanNormals adds up the unit normals around each corner.
func (s *surface) meanNormals() [][3]float32 {
	around := make([][3]float32, len(s.corners))
	for i, f := range s.faces {
		x, y, z := s.normal(i)
		l := math.Sqrt(x*x + y*y + z*z)
		if l == 0 {
			continue
		}
		nx, ny, nz := float32(x/l), float32(y/l), float32(z/l)
		for _, c := range f {
			at := &around[c]
			at[0] += nx
			at[1] += ny
			at[2] += nz
		}
	}
	return around
}

// normal is as long as twice the area of a triangle. It comes as three numbers because they
// stay in registers: a large mesh has millions.
func (s *surface) normal(face int) (x, y, z float64) {
	f := &s.faces[face]
	p, q, r := &s.corners[f[0]], &s.corners[f[1]], &s.corners[f[2]]
	ux, uy, uz := float64(q[0])-float64(p[0]), float64(q[1])-float64(p[1]), float64(q[2])-float64(p[2])
	vx, vy, vz := float64(r[0])-float64(p[0]), float64(r[1])-float64(p[1]), float64(r[2])-float64(p[2])
	return uy*vz - uz*vy, uz*vx - ux*vz, ux*vy - uy*vx
}

// before reports on which side a corner is of a plane through the corner c and along
// (x, y, z): a plane that is the same for all neighbours of c.
func (s *surface) before(corner, c uint32, x, y, z float64) bool {
	p, q := &s.corners[corner], &s.corners[c]
	dz := float64(p[2]) - float64(q[2])
	if math.Abs(x) < math.Abs(y) {
		return z*(float64(p[1])-float64(q[1]))-y*dz < 0
	}
	return z*(float64(p[0])-float64(q[0]))-x*dz < 0
}
