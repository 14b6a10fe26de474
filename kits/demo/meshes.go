package demo

import (
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"dryfit/kits/mesh"
)

// Piece is one piece of the demonstration kit, in its position in the model.
type Piece struct {
	ID        string          // as in the kit: crew-seat.1
	Triangles []mesh.Triangle // mm; closed, counter-clockwise seen from outside
}

// Meshes shapes every piece of the kit that has its own body: all that is
// printed and all hardware but the wires. The result is the same each time.
func Meshes() []Piece {
	list := slices.Concat(hullPieces(), insidePieces(), cockpitPieces(), cabinPieces(), electricPieces(),
		floorPieces(), hatchPieces(), wingPieces(), nacellePieces(), tailPieces(), floatPieces(), outsidePieces(), gearPieces())
	pieces := make([]Piece, len(list))
	var crew errgroup.Group
	crew.SetLimit(runtime.GOMAXPROCS(0))
	for i, m := range list {
		crew.Go(func() error {
			pieces[i] = Piece{m.id, m.shape()}
			return nil
		})
	}
	_ = crew.Wait()
	return pieces
}

// maker shapes one piece.
type maker struct {
	id    string
	shape func() solid
}

// pair is a piece on either side, or a copy on either side, that is shaped once.
func pair(port, starboard string, shape func() solid) []maker {
	once := sync.OnceValue(shape)
	return []maker{{port, func() solid { return once().mirrored() }}, {starboard, once}}
}

// sides is a pair whose names end in its sides.
func sides(id string, shape func() solid) []maker { return pair(id+"-port", id+"-starboard", shape) }

// copies is a pair whose names are the numbers of a part's copies.
func copies(id string, shape func() solid) []maker { return pair(id+".1", id+".2", shape) }
