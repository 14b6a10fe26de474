package geom

// AxisName is the letter of an axis: x, y or z for 0, 1 or 2.
func AxisName(axis int) string { return "xyz"[axis : axis+1] }
