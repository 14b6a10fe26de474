package meshtest

import (
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/polygon"
)

// Box is the solid between two opposite corners: 12 triangles.
func Box(min, max [3]float64) []mesh.Triangle {
	return Prism([][2]float64{{min[0], min[1]}, {max[0], min[1]}, {max[0], max[1]}, {min[0], max[1]}}, min[2], max[2])
}

// Prism is a polygon drawn out along z. The polygon is simple, in either sense, and
// need not be convex.
func Prism(polygon [][2]float64, z0, z1 float64) []mesh.Triangle {
	return Extrude(polygon, nil, z0, z1)
}

// Extrude is a polygon with holes drawn out along z. The holes lie inside the
// polygon and touch neither it nor each other; each may run in either sense.
func Extrude(outer [][2]float64, holes [][][2]float64, z0, z1 float64) []mesh.Triangle {
	if !(z0 < z1) {
		panic("meshtest: extrude: z0 must be below z1")
	}
	list := append(lid(triangulate(outer, holes), z0, false), lid(triangulate(outer, holes), z1, true)...)
	list = append(list, wall(polygon.Turned(outer, true), z0, z1)...)
	for _, h := range holes {
		list = append(list, wall(polygon.Turned(h, false), z0, z1)...)
	}
	return list
}

// Pocket is a polygon drawn out along z with a blind hole from above, down to a
// floor. The hole is as for Extrude.
func Pocket(outer, hole [][2]float64, z0, floor, z1 float64) []mesh.Triangle {
	if !(z0 < floor && floor < z1) {
		panic("meshtest: pocket: the floor must be between z0 and z1")
	}
	list := append(lid(triangulate(outer, nil), z0, false), lid(triangulate(outer, [][][2]float64{hole}), z1, true)...)
	list = append(list, lid(triangulate(hole, nil), floor, true)...)
	list = append(list, wall(polygon.Turned(outer, true), z0, z1)...)
	return append(list, wall(polygon.Turned(hole, false), floor, z1)...)
}

// triangulate panics if the outlines of a test cannot be cut.
func triangulate(outer [][2]float64, holes [][][2]float64) [][3][2]float64 {
	list, err := polygon.Triangulate(outer, holes)
	if err != nil {
		panic("meshtest: " + err.Error())
	}
	return list
}

// lid lays triangles flat at z, facing up or down.
func lid(flat [][3][2]float64, z float64, up bool) []mesh.Triangle {
	var list []mesh.Triangle
	for _, t := range flat {
		if !up {
			t[1], t[2] = t[2], t[1]
		}
		list = append(list, triangle(raised(t[0], z), raised(t[1], z), raised(t[2], z)))
	}
	return list
}

// wall stands on a ring and faces to its right.
func wall(ring [][2]float64, z0, z1 float64) []mesh.Triangle {
	var list []mesh.Triangle
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		list = append(list,
			triangle(raised(p, z0), raised(q, z0), raised(q, z1)),
			triangle(raised(p, z0), raised(q, z1), raised(p, z1)))
	}
	return list
}

func raised(p [2]float64, z float64) [3]float64 { return [3]float64{p[0], p[1], z} }

// Polyhedron turns corners and faces of any number of corners, counter-clockwise
// from outside, into triangles.
func Polyhedron(corners [][3]float32, faces ...[]int) (list []mesh.Triangle) {
	for _, f := range faces {
		for i := 2; i < len(f); i++ {
			list = append(list, mesh.Triangle{corners[f[0]], corners[f[i-1]], corners[f[i]]})
		}
	}
	return list
}
