package meshtest

import "dryfit/kits/mesh"

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
// polygon and touch neither it nor each other; any of them may run in either sense.
func Extrude(outer [][2]float64, holes [][][2]float64, z0, z1 float64) []mesh.Triangle {
	if !(z0 < z1) {
		panic("meshtest: extrude: z0 must be below z1")
	}
	var list []mesh.Triangle
	at := func(p [2]float64, z float64) [3]float64 { return [3]float64{p[0], p[1], z} }
	for _, t := range Triangulate(outer, holes) {
		list = append(list,
			triangle(at(t[0], z1), at(t[1], z1), at(t[2], z1)),
			triangle(at(t[0], z0), at(t[2], z0), at(t[1], z0)))
	}
	wall := func(ring [][2]float64) {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			list = append(list,
				triangle(at(p, z0), at(q, z0), at(q, z1)),
				triangle(at(p, z0), at(q, z1), at(p, z1)))
		}
	}
	wall(counterClockwise(outer))
	for _, h := range holes {
		wall(reversed(counterClockwise(h)))
	}
	return list
}
