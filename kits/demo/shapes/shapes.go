// Package shapes makes the meshes of the demonstration kit: every piece a closed
// solid in its place in the finished model, in mm.
package shapes

import "dryfit/kits/mesh"

// Piece is the mesh of one piece, named as in the kit.
type Piece struct {
	ID        string
	Triangles []mesh.Triangle
}
