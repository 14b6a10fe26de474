package mesh

import "dryfit/kits/geom"

// Health is the result of examining a mesh. Lengths are mm; positions are in the finished
// model.
type Health struct {
	Triangles    int
	Corners      int // distinct ones, in use
	Edges        int
	Shells       int // of triangles joined edge to edge
	Bodies       int // of those: separate solids, not counting hollows
	Euler        int // corners - edges + triangles: 2 for each sphere-like shell, 0 for a ring-like one
	Closed       bool
	Volume, Area float64
	Walls        bool      // these were measured
	ThinnestWall float64   // among those sampled; 0 if none could be measured
	ThinAt       geom.Vec  // the middle of that wall
	UsualWall    float64   // half of those sampled are thinner; 0 if none could be measured
	Problems     []Problem // the serious ones first
}

// Kinds of problems.
const (
	OpenEdges   = "open-edges"    // the surface has holes
	ManyFaces   = "many-faces"    // more than two triangles at an edge
	Reversed    = "reversed"      // neighbours that face opposite ways
	InsideOut   = "inside-out"    // a closed surface that is inside out
	StandIn     = "stand-in"      // the file's triangles are not the whole shape
	SolidInside = "solid-inside"  // a solid in the solid of another
	Overlap     = "overlap"       // shells that cut into each other, or touch
	Crossing    = "crossing"      // a shell that cuts through itself
	Hollow      = "sealed-hollow" // liquid resin stays in it
	Bodies      = "bodies"        // several pieces in one
	ThinWall    = "thin-wall"     // thinner than required
	Duplicate   = "duplicate"     // duplicate triangles
	Degenerate  = "degenerate"    // triangles without area
	Seams       = "seams"         // duplicate corners in the file
	Unchecked   = "unchecked"     // what took too long to check
)

// Problem is something that a designer may have to fix.
type Problem struct {
	Kind    string // one of those above
	Count   int
	Place   geom.Vec // of one of them
	Text    string   // what is wrong, with the count
	Remedy  string   // what to do
	Serious bool     // the size or the inside of the piece is unreliable
}
