package geom

// Turn is twice the area of a triangle in a plane, mm2: positive if its corners go round
// counter-clockwise, so that the path from a over b to c turns left.
func Turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}
