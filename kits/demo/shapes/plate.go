package shapes

import "dryfit/kits/mesh/meshtest"

// tub is an outline drawn out along z with a hollow from above, down to its floor.
func tub(bottom, floor, top float64, outline, hollow [][2]float64) body {
	return body(meshtest.Pocket(outline, hollow, bottom, floor, top))
}

// rectangle has its corners cut off at 45 degrees.
func rectangle(u0, v0, u1, v1, cut float64) [][2]float64 {
	if cut == 0 {
		return [][2]float64{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}}
	}
	return [][2]float64{{u0 + cut, v0}, {u1 - cut, v0}, {u1, v0 + cut}, {u1, v1 - cut},
		{u1 - cut, v1}, {u0 + cut, v1}, {u0, v1 - cut}, {u0, v0 + cut}}
}

// circle has flats towards the axes, r from its middle.
func circle(u, v, r float64) [][2]float64 { return meshtest.Circle([2]float64{u, v}, r, 24) }
