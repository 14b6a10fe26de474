package printing

import (
	"context"

	"dryfit/kits/mesh"
)

// Surface is the closed surface of a part. Its triangles are counter-clockwise seen
// from outside, mm, and come in blocks; do must not keep a block.
type Surface interface {
	Blocks(do func(first int, block []mesh.Triangle) error) error
}

// each calls do with every block until the context ends.
func each(ctx context.Context, s Surface, do func(block []mesh.Triangle)) error {
	return s.Blocks(func(_ int, block []mesh.Triangle) error {
		do(block)
		return ctx.Err()
	})
}

func point(p [3]float32) vec { return vec{float64(p[0]), float64(p[1]), float64(p[2])} }

// Of large meshes the hull is taken piece by piece: maxPoints corners at a time, of
// which those inside are dropped. If a hull has more than maxCorners, as one of a fine
// ball, it is taken to within a hundredth of a millimetre, or twice that, and so on,
// until it has fewer. Hull.Slack says how much that adds up to.
const (
	maxPoints  = 600_000
	maxCorners = 3000
	firstSlack = 0.01 // mm
)

// hullMaker gathers the hull of a part block by block.
type hullMaker struct {
	points []vec
	slack  float64 // by which a hull is made coarser; 0 for none
	spent  float64 // what that adds up to
}

func (h *hullMaker) add(block []mesh.Triangle) {
	for i := range block {
		for _, p := range block[i] {
			h.points = append(h.points, point(p))
		}
	}
	if len(h.points) >= maxPoints {
		h.points = h.hull().Points
	}
}

// hull is that of all blocks added.
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
