package plan

import (
	"context"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// Geometry is what was measured of the pieces of a kit in their positions in the
// finished model, as plain numbers. Lists are indexed by piece; a piece without a
// mesh blocks nothing.
type Geometry struct {
	Measured   []bool
	Sizes      [][3]float64   // mm along the axes
	Directions []geom.Vec     // unit directions in which a piece may leave its seat
	InTheWay   [][][]int32    // direction, piece: the pieces that keep it from leaving
	Legs       map[int][]Legs // piece: ways of several legs
	Searched   map[int]bool   // piece: ways of several legs were searched for
	Undercuts  map[int][]Undercut
	Clashes    []Clash
	Touching   []Touch
	Findings   []Finding // what is wrong with the meshes themselves

	Resolution float64 // mm; blockers wider than this across the travel are found
	Near       float64 // mm of gap that counts as touching
	// Hit returns how far, in mm, a piece can leave along a direction before it meets
	// another.
	Hit func(piece, other, direction int) float64
	// Further, if not nil, looks for a way of several legs of a piece, adds it to Legs,
	// and reports whether there is one.
	Further func(context.Context, Stall) (bool, error)
}

// Legs is a way out of a seat along several straight legs, and the pieces that
// block it.
type Legs struct {
	Legs     []geom.Leg
	InTheWay []int32
}

// Undercut is a direction in which a piece leaves past undercuts of others: a
// screw thread, or a snap fit.
type Undercut struct {
	Direction int
	Width     float64 // mm
	Past      []int32
}

// Clash is two pieces in the same place.
type Clash struct {
	A, B   int
	Depth  float64 // mm
	Volume float64 // mm3
}

// Touch is two pieces that touch, or nearly.
type Touch struct {
	A, B    int
	Contact float64 // mm2; 0 if they only come near
	Gap     float64 // mm
}

// SizeOf is the size of a piece in mm as the kit states it or, failing that, as
// measured.
func (r *Constraints) SizeOf(piece int) *kits.Size {
	if s := r.Kit.Pieces[piece].Part.Size; s != nil {
		return s
	}
	if g := r.Geometry; g != nil && g.Measured[piece] {
		return &kits.Size{XYZ: g.Sizes[piece], Pos: r.Kit.Pieces[piece].Part.Pos}
	}
	return nil
}

// direction is the number of a direction of leaving, or -1.
func (g *Geometry) direction(d geom.Vec) int {
	return slices.IndexFunc(g.Directions, d.SameDirection)
}

// undercut is the width of the undercuts past which a piece leaves another; 0 if it
// does not.
func (g *Geometry) undercut(piece int, other int32, leaving int) float64 {
	for _, u := range g.Undercuts[piece] {
		if u.Direction == leaving && slices.Contains(u.Past, other) {
			return u.Width
		}
	}
	return 0
}
