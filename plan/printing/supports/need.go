package supports

import (
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Surface is the closed surface of a part. Its triangles are counter-clockwise seen
// from outside, mm, and come in blocks; do must not keep a block.
type Surface interface {
	Blocks(do func(first int, block []mesh.Triangle) error) error
}

// Rules decide what needs support.
type Rules struct {
	// Angle is measured from the bed, degrees: a face that leans out over less than
	// that needs support.
	Angle float64
	// Exact says what a face at just that angle does: it needs support too.
	Exact bool
	// Bridge is the longest gap, mm, that a flat underside spans without support,
	// held at both ends; 0 if nothing does.
	Bridge float64
	// Raise is how far the part stands above the bed, on supports, mm; 0 if it lies
	// on the bed.
	Raise float64
	// Layer is the height of a layer, mm.
	Layer float64
}

// angleTolerance is how far from the angle a face counts as exactly at it, in
// degrees: several roundings of the coordinates of a small triangle.
const angleTolerance = 0.1

// Need is what a part needs at a turn.
type Need struct {
	Area    float64    // mm2 of surface that needs support
	Visible float64    // mm2 of it on faces that are seen on the finished model
	Sides   [6]float64 // mm2 of it by the side of the model that a face is on: -x, +x, -y, +y, -z, +z
	Columns float64    // mm3 between that surface and the bed, or the part beneath it
	OnPart  float64    // mm3 of them that stand on the part itself
	Trapped float64    // mm3 of them in hollows from which they cannot be taken
	Foot    float64    // mm2 that lie on the bed
	Islands int        // places above the first layer where a layer begins with nothing beneath it; Uncounted
}

// Uncounted is the number of islands of a part with more than maxWelded triangles.
const Uncounted = -1

// Pockets are volumes of air, mm3, that a part encloses on all sides but one.
type Pockets struct {
	Down float64 // open only towards the bed
	Up   float64 // open only away from the bed
}

// Part is a part that is measured at several turns. One goroutine at a time may use it.
type Part struct {
	Surface   Surface
	Triangles int
	// Seen says which triangles are seen on the finished model; nil if none is.
	Seen func(triangle int) bool
	// Coarse measures with a quarter of the lines along each side: enough for a box.
	Coarse bool

	welded *welded
	grid   *columns // its memory is used again; nil until it is needed
}

// Turn is a rotation: its rows are the printer's axes as directions of the model.
type Turn = [3]geom.Vec
