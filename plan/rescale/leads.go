package rescale

import (
	"fmt"
	"math"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/lights"
)

// Lead is a wire and the narrowest hole on its run. The hole scales, the wire does not.
// Fill is the area of a round wire by that of the hole.
type Lead struct {
	Wire     *kits.Wire // at the new scale
	Was, Now float64    // fill
}

// leads lists the wires of which both the width and a hole are stated.
func (r *Report) leads() []Lead {
	f := r.Scaling.Factor
	var list []Lead
	for _, w := range r.Kit.Wires {
		if w.Across == nil || w.Hole == nil {
			continue
		}
		fill := lights.Fill(1, *w.Across, *w.Hole)
		list = append(list, Lead{w, fill * f * f, fill})
	}
	return list
}

// leadFindings: a wire wider than its hole is found when the kit is checked; here are
// those that become tight, alone or together.
func (r *Report) leadFindings() []plan.Finding {
	var list []plan.Finding
	for _, l := range r.Leads {
		if l.Was > lights.FullHole || l.Now <= lights.FullHole || l.Now > 1 {
			continue
		}
		w := l.Wire
		need := roomy(*w.Across)
		list = append(list, full(w, "%s becomes tight in a hole on its run: %s across in %s, %s full instead of %s", w.ID, r.mm(*w.Across), r.mm(*w.Hole), english.Percent(l.Now), english.Percent(l.Was)).
			At(w.ID, r.Now.Constraints.ThreadStep(w)).
			Suggest(fmt.Sprintf("make the hole at least %s across, which is %s as it is drawn now", r.mm(need), r.mm(need/r.Scaling.Factor))))
	}
	return append(list, r.bundles()...)
}

func full(w *kits.Wire, format string, args ...any) plan.Finding {
	return plan.NewFinding(plan.WireEnd, plan.Caution, fmt.Sprintf(format, args...)).
		Since(fmt.Sprintf("a hole should be at most %s full of wire", english.Percent(lights.FullHole)), w.HolePos)
}

// roomy is the hole, in mm, that a wire should have, up to the next tenth.
func roomy(across float64) float64 { return math.Ceil(across/math.Sqrt(lights.FullHole)*10-1e-9) / 10 }

// bundles are wires that go through one piece and, as far as the kit says, through one
// hole of it: the widest of their holes.
func (r *Report) bundles() []plan.Finding {
	type bundle struct {
		wires []*kits.Wire
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
			b.wires = append(b.wires, l.Wire)
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
		if now <= lights.FullHole || now <= 1 && was > lights.FullHole || was > 1 {
			continue
		}
		list = append(list, full(b.wires[0], "%s go through %s: if they share one hole, of %s, it is up to %s full instead of %s, each counted as round", some(wireIDs(b.wires)), pc.ID, r.mm(b.hole), english.Percent(now), english.Percent(was)).
			About(pc.ID).
			Suggest(fmt.Sprintf("make that hole at least %s across, or give them several", r.mm(roomy(math.Sqrt(b.area))))))
	}
	return list
}

func wireIDs(wires []*kits.Wire) []string {
	var ids []string
	for _, w := range wires {
		ids = append(ids, w.ID)
	}
	return ids
}
