package lights

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// Allowance beyond the straight length of a run (common practice): a fifth for
// bends and clips, and 60 mm at each end to work with.
const (
	slackRun = 1.2
	spareEnd = 60
)

// withSpare is the length of wire to cut for a run of a straight length, both in mm.
func withSpare(straight float64) float64 { return straight*slackRun + 2*spareEnd }

// maxRun bounds the pieces along a run, and sweeps how often its bends are moved.
const (
	maxRun = 100
	sweeps = 60
)

// straight is the length, in mm, of a short route of straight stretches from the
// supply to the lamps of a branch, through the boxes of the pieces that its wires
// are threaded through. 0 if the wires are not stated or what they end at has no
// mesh.
func straight(p *plan.Project, b *kits.Branch) float64 {
	if len(b.Wires) == 0 {
		return 0
	}
	var chain []int
	for _, w := range b.Wires {
		chain = append(append(append(chain, w.From), w.Through...), w.To)
	}
	chain = slices.Compact(append(chain, b.Lamps...))
	if len(chain) > maxRun {
		return 0
	}
	var boxes []geom.Box
	for i, piece := range chain {
		m := p.Mesh(piece)
		end := i == 0 || i == len(chain)-1
		switch {
		case m != nil && end:
			boxes = append(boxes, geom.Box{Min: m.Centre, Max: m.Centre})
		case m != nil:
			boxes = append(boxes, geom.Box{Min: m.Min, Max: m.Max})
		case end:
			return 0
		}
	}
	return shortRoute(boxes)
}

// shortRoute visits boxes in turn. Each bend is moved repeatedly to the point of
// its box nearest to the middle of its neighbours: this minimises the sum of the
// squares of the stretches, and nearly their sum.
func shortRoute(boxes []geom.Box) float64 {
	route := make([]geom.Vec, len(boxes))
	for i, b := range boxes {
		route[i] = b.Nearest(boxes[0].Min)
	}
	for range sweeps {
		for i := 1; i < len(route)-1; i++ {
			route[i] = boxes[i].Nearest(route[i-1].Plus(route[i+1]).Times(0.5))
		}
	}
	sum := 0.0
	for i := 1; i < len(route); i++ {
		sum += route[i-1].Minus(route[i]).Length()
	}
	return sum
}
