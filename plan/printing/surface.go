package printing

import (
	"context"
	"math"
	"sync"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/printing/supports"
)

// Surface is the closed surface of a part.
type Surface = supports.Surface

// each calls do with every block until the context ends.
func each(ctx context.Context, s Surface, do func(block []mesh.Triangle)) error {
	return s.Blocks(func(_ int, block []mesh.Triangle) error {
		do(block)
		return ctx.Err()
	})
}

// The hull of a large mesh is built in blocks of maxPoints corners, dropping
// those inside. If a hull has more than maxCorners, as that of a fine ball does,
// it is computed to within a hundredth of a millimetre, then twice that, and so
// on, until it has fewer. Hull.Slack is the total.
const (
	maxPoints  = 600_000
	maxCorners = 3000
	firstSlack = 0.01 // mm
)

// hullMaker gathers the hull of a part block by block.
type hullMaker struct {
	points []geom.Vec
	slack  float64 // by which a hull is coarsened; 0 for none
	spent  float64 // what that adds up to
	recent *corners
}

// recentBits is the size of the memory for corners met before: neighbouring triangles
// share their corners, and a hull needs each once.
const recentBits = 12

type corners [1 << recentBits][3]float32

// recents are memories that no part uses.
var recents = sync.Pool{New: func() any { return new(corners) }}

// again reports whether a corner was met recently, and remembers it.
func (h *hullMaker) again(p [3]float32) bool {
	x := uint64(math.Float32bits(p[0]))*0x9e3779b97f4a7c15 ^ uint64(math.Float32bits(p[1]))*0xc2b2ae3d27d4eb4f ^ uint64(math.Float32bits(p[2]))*0x165667b19e3779f9
	at := (x ^ x>>29) * 0xbf58476d1ce4e5b9 >> (64 - recentBits)
	if h.recent == nil {
		h.recent = recents.Get().(*corners)
		for i := range h.recent {
			h.recent[i][0] = float32(math.NaN()) // no corner
		}
	}
	if h.recent[at] == p {
		return true
	}
	h.recent[at] = p
	return false
}

func (h *hullMaker) add(block []mesh.Triangle) {
	for i := range block {
		for _, p := range block[i] {
			if !h.again(p) {
				h.points = append(h.points, geom.Point(p))
			}
		}
	}
	if len(h.points) >= maxPoints {
		h.points = h.hull().Points
	}
}

// hull is the hull of all blocks added.
func (h *hullMaker) hull() *Hull {
	out := hullOf(h.points, h.slack)
	h.spent += h.slack
	for len(out.Points) > maxCorners {
		h.slack = max(firstSlack, 2*h.slack)
		out = hullOf(out.Points, h.slack)
		h.spent += h.slack
	}
	out.Slack += h.spent
	return out
}

// done frees the memory for the next part.
func (h *hullMaker) done() {
	if h.recent != nil {
		recents.Put(h.recent)
		h.recent = nil
	}
}
