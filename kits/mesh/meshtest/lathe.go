package meshtest

import (
	"math"
	"slices"

	"dryfit/kits/mesh"
)

// Lathe turns a closed profile of (radius, z) once round the z axis. The profile is
// counter-clockwise with the radius to the right and z upwards; radii are not
// negative, and an edge on the axis itself makes no surface.
func Lathe(profile [][2]float64, segments int) []mesh.Triangle {
	return LatheFrom(profile, segments, 0)
}

// LatheFrom is Lathe with the first corners at an angle, in radians, from the x axis.
func LatheFrom(profile [][2]float64, segments int, start float64) []mesh.Triangle {
	if segments < 3 {
		panic("meshtest: a circle has three segments or more")
	}
	at := func(p [2]float64, s int) [3]float64 {
		c := unitCircle(s%segments, segments, start)
		return [3]float64{p[0] * c[0], p[0] * c[1], p[1]}
	}
	var list []mesh.Triangle
	for i, p := range profile {
		q := profile[(i+1)%len(profile)]
		for s := range segments {
			if p[0] > 0 {
				list = append(list, triangle(at(p, s), at(p, s+1), at(q, s+1)))
			}
			if q[0] > 0 {
				list = append(list, triangle(at(p, s), at(q, s+1), at(q, s)))
			}
		}
	}
	return list
}

// Circle is a regular polygon of corners at a radius from the centre.
func Circle(centre [2]float64, radius float64, segments int) [][2]float64 {
	ring := make([][2]float64, segments)
	for s := range ring {
		c := unitCircle(s, segments, 0)
		ring[s] = [2]float64{centre[0] + radius*c[0], centre[1] + radius*c[1]}
	}
	return ring
}

// unitCircle gives the s-th corner; quarters are exact.
func unitCircle(s, segments int, start float64) [2]float64 {
	if start == 0 && 4*s%segments == 0 {
		return [4][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[4*s/segments]
	}
	sin, cos := math.Sincos(start + 2*math.Pi*float64(s)/float64(segments))
	return [2]float64{cos, sin}
}

// Cylinder stands on z0 about the z axis.
func Cylinder(radius, z0, z1 float64, segments int) []mesh.Triangle {
	return Frustum(radius, radius, z0, z1, segments)
}

// Frustum is a cone cut off: r0 at z0, r1 at z1. One of the radii may be 0.
func Frustum(r0, r1, z0, z1 float64, segments int) []mesh.Triangle {
	profile := [][2]float64{{0, z0}}
	if r0 > 0 {
		profile = append(profile, [2]float64{r0, z0})
	}
	if r1 > 0 {
		profile = append(profile, [2]float64{r1, z1})
	}
	return Lathe(append(profile, [2]float64{0, z1}), segments)
}

// Tube is open at both ends.
func Tube(outer, inner, z0, z1 float64, segments int) []mesh.Triangle {
	return Lathe([][2]float64{{inner, z0}, {outer, z0}, {outer, z1}, {inner, z1}}, segments)
}

// Sphere has its poles on the z axis: segments round it, rings from pole to pole.
func Sphere(radius float64, segments, rings int) []mesh.Triangle {
	return Lathe(arc(radius, -math.Pi/2, math.Pi/2, rings), segments)
}

// HalfShell is the upper half of a hollow ball, a bowl upside down, closed by the
// flat ring at z = 0.
func HalfShell(outer, inner float64, segments, rings int) []mesh.Triangle {
	profile := arc(outer, 0, math.Pi/2, rings)
	back := arc(inner, 0, math.Pi/2, rings)
	slices.Reverse(back)
	return Lathe(append(profile, back...), segments)
}

// Torus lies in the xy plane: radius to the middle of the tube, and of the tube.
func Torus(radius, tube float64, segments, tubeSegments int) []mesh.Triangle {
	return Lathe(Circle([2]float64{radius, 0}, tube, tubeSegments), segments)
}

// arc is a run of points on a circle about the origin of the profile; the ends on
// the axes are exact.
func arc(radius, from, to float64, steps int) [][2]float64 {
	if steps < 2 {
		panic("meshtest: an arc has two steps or more")
	}
	var run [][2]float64
	for i := range steps + 1 {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(steps))
		if math.Abs(sin) < 1e-12 {
			sin, cos = 0, 1
		}
		if math.Abs(cos) < 1e-12 {
			sin, cos = math.Copysign(1, sin), 0
		}
		run = append(run, [2]float64{radius * cos, radius * sin})
	}
	return run
}
