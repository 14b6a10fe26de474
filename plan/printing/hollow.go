package printing

import (
	"context"
	"fmt"
	"math"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
)

// Hollowing of resin parts: walls of 2 to 3 mm for large parts, two drain holes of 3
// mm (common practice). It is mentioned where it saves enough (ours). Nothing is
// changed: it is for the designer to do.
const (
	HollowWall = 2.5  // mm
	leastSaved = 2000 // mm3
	savedShare = 0.2  // of the part
)

// Hollowing is what hollowing a solid part would save.
type Hollowing struct {
	Saves  float64 // mm3
	Mass   float64 // g
	Hidden string  // the side of the model, such as -z, with the most hidden face for drain holes; empty if nothing is known to be hidden
}

// hollowed works out what hollowing would save; nil if it is not worth it.
func (p *Planned) hollowed(ctx context.Context, f *facts) (*Hollowing, error) {
	if p.Printer.Process != kits.Resin || p.BySize || p.Clear() || p.Shape.Volume < leastSaved/savedShare/2 {
		return nil, nil
	}
	core, err := f.solid.Core(ctx, p.Shape.Box, HollowWall)
	f.solid.Forget()
	if err != nil || core < leastSaved || core < savedShare*p.Shape.Volume {
		return nil, err
	}
	h := &Hollowing{Saves: core, Mass: mass(core, p.Made)}
	if p.Seen != nil {
		h.Hidden = f.facing.hidden()
	}
	return h, nil
}

// hidden is the side of the model with the most face that is not seen; none if less than
// the room for two drain holes is hidden.
func (f *facing) hidden() string {
	var sums [6]float64
	for _, t := range f.list {
		axis := 0
		for k := 1; k < 3; k++ {
			if math.Abs(t.normal[k]) > math.Abs(t.normal[axis])+1e-9 {
				axis = k
			}
		}
		at := 2 * axis
		if t.normal[axis] > 0 {
			at++
		}
		sums[at] += t.normal.Length() - t.seen.Length()
	}
	best := 0
	for i := range sums {
		if sums[i] > sums[best] {
			best = i
		}
	}
	if sums[best] < leastHidden {
		return ""
	}
	return Sides[best]
}

// leastHidden is the face, in mm2, that two drain holes of 3 mm need, with some to spare.
const leastHidden = 50.0

// Sides names the sides of the model.
var Sides = [6]string{"-x", "+x", "-y", "+y", "-z", "+z"}

// Says words what hollowing saves, and where the holes go.
func (h *Hollowing) Says() string {
	text := fmt.Sprintf("hollowed to walls of %g mm it would take %.2g cm3 less, %.0f g; ", HollowWall, h.Saves/1000, h.Mass)
	if h.Hidden == "" {
		return text + "no face for drain holes is known to be hidden"
	}
	return text + fmt.Sprintf("drain holes go unseen on its faces toward %s", h.Hidden)
}

// solid notes the parts that could be hollowed.
func (p *Plan) solid() []plan.Finding {
	var parts []*kits.Part
	saves := 0.0
	for _, part := range p.Parts {
		if h := part.Hollow; h != nil {
			parts = append(parts, part.Of)
			saves += h.Mass * float64(len(part.Pieces))
		}
	}
	if parts == nil {
		return nil
	}
	text := fmt.Sprintf("%s of resin could be hollowed to walls of %g mm, which saves %.0f g: %s", english.Count(len(parts), "thick part"), HollowWall, saves, names(parts))
	return []plan.Finding{plan.NewFinding(plan.Printing, plan.Note, text).About(parts[0].ID).Suggest("hollow them, each with two drain holes of 3 mm near the lowest and the highest point as it is printed; printing --parts says where they go unseen")}
}
