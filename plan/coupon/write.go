package coupon

import (
	"io"

	"dryfit/kits/geom"
	"dryfit/kits/mesh/threemf"
)

// Title names a coupon in its file.
const Title = "Fit coupon"

// Write writes the plates as a 3MF file, an object each, one behind the other.
func Write(w io.Writer, list []Plate) error {
	var items []threemf.Item
	y := 0.0
	for _, p := range list {
		place := geom.Scaling(1)
		place[3] = geom.Vec{0, y, 0}
		items = append(items, threemf.Item{Name: p.Name, Mesh: p.Mesh, Place: place})
		y += p.Mesh.Size()[1] + apart
	}
	return threemf.Write(w, Title, items)
}

// apart is the gap between plates in mm.
const apart = 5
