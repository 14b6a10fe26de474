package rescale

import (
	"fmt"
	"math"

	"dryfit/kits"
	"dryfit/plan"
)

// Lead is a wire and the narrowest hole on its run. The hole scales, the wire does not.
// Fill is the area of a round wire by that of the hole.
type Lead struct {
	Wire     *kits.Wire // at the new scale
	Was, Now float64    // fill
}

// fullHole is how full of wire a hole should be at the most (common practice: 40 to
// 50 %).
const fullHole = 0.5

// leads lists the wires of which both the width and a hole are told.
func (r *Report) leads() []Lead {
	f := r.Scaling.Factor
	var list []Lead
	for _, w := range r.Kit.Wires {
		if w.Across == nil || w.Hole == nil {
			continue
		}
		fill := math.Pow(*w.Across / *w.Hole, 2)
		list = append(list, Lead{w, fill * f * f, fill})
	}
	return list
}

// leadFindings: a wire wider than its hole is found when the kit is checked; here are
// those that become tight, alone or together.
func (r *Report) leadFindings() []plan.Finding {
	var list []plan.Finding
	for _, l := range r.Leads {
		if l.Was > fullHole || l.Now <= fullHole || l.Now > 1 {
			continue
		}
		f := finding(plan.WireEnd, plan.Caution, fmt.Sprintf("%s becomes tight in a hole on its run: %s across in %s, %s full instead of %s", l.Wire.ID, r.mm(*l.Wire.Across), r.mm(*l.Wire.Hole), percent(l.Now), percent(l.Was)))
		f.Step = l.Wire.ID
		f.Because = []plan.Reason{{Text: fmt.Sprintf("a hole should be at most %s full of wire", percent(fullHole)), At: l.Wire.HolePos.String()}}
		f.Repairs = []plan.Repair{{Text: fmt.Sprintf("make the hole at least %s across, which is %s as it is drawn now", r.mm(roomy(*l.Wire.Across)), r.mm(roomy(*l.Wire.Across)/r.Scaling.Factor))}}
		list = append(list, f)
	}
	return append(list, r.bundles()...)
}

// roomy is the hole that a wire should have: no more than full, to a tenth of a mm.
func roomy(across float64) float64 { return math.Ceil(across/math.Sqrt(fullHole)*10-1e-9) / 10 }

// bundles are wires that go through one piece and, as far as the kit tells, through one
// hole of it: the widest of their holes.
func (r *Report) bundles() []plan.Finding {
	type bundle struct {
		wires []Lead
		area  float64
		hole  float64
	}
	through := map[int]*bundle{}
	for _, l := range r.Leads {
		for _, p := range l.Wire.Through {
			b := through[p]
			if b == nil {
				b = &bundle{}
				through[p] = b
			}
			b.wires = append(b.wires, l)
			b.area += *l.Wire.Across * *l.Wire.Across
			b.hole = max(b.hole, *l.Wire.Hole)
		}
	}
	f := r.Scaling.Factor
	var list []plan.Finding
	for p, pc := range r.Kit.Pieces {
		b := through[p]
		if b == nil || len(b.wires) < 2 || !r.scales(p) {
			continue
		}
		now := b.area / (b.hole * b.hole)
		was := now * f * f
		if now <= fullHole || now <= 1 && was > fullHole || was > 1 {
			continue
		}
		var names []string
		for _, l := range b.wires {
			names = append(names, l.Wire.ID)
		}
		out := finding(plan.WireEnd, plan.Caution, fmt.Sprintf("%s go through %s: if they share one hole, of %s, it is up to %s full instead of %s, each counted as round", some(names), pc.ID, r.mm(b.hole), percent(now), percent(was)))
		out.Piece = pc.ID
		out.Because = []plan.Reason{{Text: fmt.Sprintf("a hole should be at most %s full of wire", percent(fullHole)), At: b.wires[0].Wire.HolePos.String()}}
		need := roomy(math.Sqrt(b.area))
		out.Repairs = []plan.Repair{{Text: fmt.Sprintf("make that hole at least %s across, or give them several", r.mm(need))}}
		list = append(list, out)
	}
	return list
}
