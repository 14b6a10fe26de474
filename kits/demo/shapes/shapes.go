package shapes

import "dryfit/kits/mesh"

// Piece is the mesh of one piece, named as in the kit.
type Piece struct {
	ID        string
	Triangles []mesh.Triangle
}

// All makes every piece of the model that has a body.
func All() []Piece {
	var all []Piece
	all = append(all, hullPieces()...)
	all = append(all, bulkheads()...)
	all = append(all, bothSides("splice", splicePlate())...)
	all = append(all, hullKeys()...)
	all = append(all, bothSides("spray-rail", sprayRail())...)
	all = append(all, ballast()...)
	all = append(all, floorPieces()...)
	all = append(all, electrics()...)
	all = append(all, outside()...)
	return all
}
