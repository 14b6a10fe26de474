package blocking

import (
	"cmp"
	"context"
	"slices"

	"dryfit/kits/geom"
)

// Hollow is air inside the model: from all of it pieces are seen all around, but for a
// door. Bulkheads and floors divide it.
type Hollow struct {
	geom.Box         // mm
	Volume   float64 // of its air, mm3
	Closers  []HollowCloser
	Holds    []int // pieces that can only leave when something that closes it is off

	Plates []int // of Holds, and between it and others: floors and bulkheads

	section geom.Vec // its cross-section along each axis, mm2
}

// HollowCloser is a piece between a hollow and the outside, behind which there is no
// other.
type HollowCloser struct {
	Piece  int
	Axis   int     // along which it closes
	Share  float64 // the share of the hollow's cross-section that it closes
	whole  bool
	within bool // it shuts the hollow off from another, not from the outside
}

const (
	wholeSide   = 0.5     // of the section: more than this is a whole side
	mostOfSide  = 2.0 / 3 // of the lines that lead outside in one direction; ours
	edgeToEdge  = 0.9     // of the hollow's box across the closer; ours
	closerShare = 0.02    // of the section: less than this closes nothing
	openShare   = 1.0 / 3 // of the walls: with more than this open it is a cage, not a room; ours
	emptyShare  = 0.1     // of what is hollow: less than this that holds nothing is no space; ours
	nextToNone  = 0.02    // of its air: what holds less than this counts as empty; ours
	emptyOpen   = 0.02    // of the walls: with more than this open, what holds nothing is no space; ours
	fewWalls    = 2       // times as wide as its walls are thick; narrower is a gap; ours
)

// WholeSide reports whether a closer leaves a whole side open while it is off: half of the
// section, most of what there is outside in that direction, or all from edge to edge.
func (c *HollowCloser) WholeSide() bool { return c.whole }

// Hollows finds the hollows of the model, the largest first, and the edge in mm of the
// cells in which they were looked for. faces are those of the model.
func (m *Model) Hollows(ctx context.Context, faces []Faces) ([]Hollow, float64, error) {
	all := m.all()
	if len(all) == 0 {
		return nil, 0, nil
	}
	r, err := m.room(ctx, all)
	if err != nil {
		return nil, 0, err
	}
	pockets := r.pockets(m)
	hollow, inner := 0.0, m.inner(faces)
	var list []Hollow
	var open []float64
	var airs [][]int32
	for _, cells := range pockets {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		h, share := r.hollow(m, cells, inner)
		if share > openShare || len(h.Closers) == 0 {
			r.release(cells)
			continue
		}
		hollow += h.Volume
		list, open, airs = append(list, h), append(open, share), append(airs, cells)
	}
	m.hold(r, list, airs, inner)
	kept := list[:0]
	for i, h := range list {
		if m.solid(h.Holds) > nextToNone*h.Volume || h.Volume >= emptyShare*hollow && open[i] <= emptyOpen && r.clearance(airs[i]) >= fewWalls*m.wall(&h) {
			kept = append(kept, h)
		}
	}
	slices.SortFunc(kept, func(a, b Hollow) int {
		return cmp.Or(cmp.Compare(b.Volume, a.Volume), slices.Compare(a.Min[:], b.Min[:]))
	})
	return kept, r.cell, nil
}

// solid is the volume of some pieces, mm3.
func (m *Model) solid(pieces []int) float64 {
	sum := 0.0
	for _, p := range pieces {
		sum += m.Pieces[p].Volume
	}
	return sum
}
