package explain

import (
	"fmt"
	"math"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// measuredFindings compares what the kit says with what was measured.
func (r *explainer) measuredFindings() []plan.Finding {
	if r.Geometry == nil {
		return nil
	}
	list := append([]plan.Finding(nil), r.Geometry.Findings...)
	list = append(list, r.clashFindings()...)
	list = append(list, r.apartFindings()...)
	list = append(list, r.undercutFindings()...)
	return append(list, r.sizeFindings()...)
}

// clashFindings reports pieces that overlap. Bought hardware is modelled simply,
// and screws and pins are meant to bite, so for these it is only a caution.
func (r *explainer) clashFindings() []plan.Finding {
	var list []plan.Finding
	for _, c := range r.Geometry.Clashes {
		a, b := r.Kit.Pieces[c.A], r.Kit.Pieces[c.B]
		f := plan.Finding{Kind: plan.Clashes, Grade: plan.Fault, Piece: a.ID, Pieces: []string{a.ID, b.ID}, Pos: a.Part.Pos}
		if a.Part.Bought || b.Part.Bought {
			f.Grade = plan.Caution
		}
		f.Text = fmt.Sprintf("%s and %s overlap by %s (%s mm3)", a.ID, b.ID, r.MM(geom.Round(c.Depth, 2)), english.Number(c.Volume, 2))
		f.Because = []plan.Reason{
			plan.ReasonAt(a.ID+" is "+r.meshOf(c.A), a.Part.Pos, a.ID),
			plan.ReasonAt(b.ID+" is "+r.meshOf(c.B), b.Part.Pos, b.ID),
		}
		f.Repairs = []plan.Repair{}
		list = append(list, f)
	}
	return list
}

func (r *explainer) meshOf(p int) string {
	size := geom.Vec(r.Geometry.Sizes[p]).Round(1)
	return "a mesh of " + r.MM(size[:]...)
}

// apartFindings reports pieces that are fitted together but do not touch.
func (r *explainer) apartFindings() []plan.Finding {
	g := r.Geometry
	touch := map[[2]int]plan.Touch{}
	for _, t := range g.Touching {
		touch[[2]int{t.A, t.B}] = t
	}
	for _, c := range g.Clashes {
		touch[[2]int{c.A, c.B}] = plan.Touch{A: c.A, B: c.B, Contact: 1}
	}
	var list []plan.Finding
	hold := func(j *kits.Join, p, q int) {
		if !g.Measured[p] || !g.Measured[q] {
			return
		}
		t, near := touch[[2]int{min(p, q), max(p, q)}]
		if near && (t.Contact > 0 || t.Gap <= r.Kit.Fit) {
			return
		}
		f := plan.Finding{Kind: plan.Meshes, Grade: plan.Fault, Piece: r.PieceName(p), Step: r.Name(r.StepOf(j)), Steps: []int{r.StepOf(j)}, Pos: j.Pos}
		f.Text = fmt.Sprintf("%s does not touch %s, to which it is fitted: they are more than %s apart", r.PieceName(p), r.PieceName(q), r.MM(geom.Round(5*g.Near, 2)))
		if near {
			f.Grade = plan.Caution
			f.Text = fmt.Sprintf("%s does not touch %s, to which it is fitted: the gap is %s", r.PieceName(p), r.PieceName(q), r.MM(geom.Round(t.Gap, 2)))
		}
		f.Because = []plan.Reason{plan.ReasonAt(fmt.Sprintf("%s is fitted to %s", r.PieceName(p), r.PieceName(q)), j.Pos, r.PieceName(p), r.PieceName(q))}
		list = append(list, f)
	}
	for _, j := range r.Kit.Joins {
		if j.IsClose() {
			continue // their groups touch, even if they themselves do not
		}
		for _, p := range j.Pieces {
			for _, q := range r.nearest(j, p) {
				hold(j, p, q)
			}
		}
	}
	return list
}

// nearest lists what a fitted piece must touch. A part fitted to all copies of
// another need touch only one; the first piece named may represent its group.
func (r *explainer) nearest(j *kits.Join, p int) []int {
	byPart := map[*kits.Part][]int{}
	var parts []*kits.Part
	for _, q := range r.Change.OntoOf(j) {
		part := r.Kit.Pieces[q].Part
		if byPart[part] == nil {
			parts = append(parts, part)
		}
		byPart[part] = append(byPart[part], q)
	}
	var list []int
	for _, part := range parts {
		best := byPart[part][0]
		for _, q := range byPart[part] {
			for _, t := range r.Geometry.Touching {
				if t.A == min(p, q) && t.B == max(p, q) && t.Contact > 0 {
					best = q
				}
			}
		}
		list = append(list, best)
	}
	return list
}

// undercutFindings reports pieces that go in past an undercut. They are screwed
// in or bend, which the kit should state as a screw or a press fit.
func (r *explainer) undercutFindings() []plan.Finding {
	var list []plan.Finding
	for i := range r.Access {
		t := &r.Access[i]
		route := r.Route(i)
		j := r.Steps[t.Step].Join
		if route == nil || route.Undercut == 0 || j.Fixing != nil && (j.Fixing.Kind == kits.Screw || j.Fixing.Kind == kits.Press) {
			continue
		}
		list = append(list, plan.Finding{Kind: plan.Blocked, Grade: plan.Caution, Piece: r.PieceName(t.Piece), Step: r.Name(t.Step), Steps: []int{t.Step}, Pos: j.Pos,
			Text: fmt.Sprintf("%s goes to its seat past an undercut of up to %s: if it is a thread or a snap, use a fixing of kind screw or press; without turning or bending it does not go in",
				r.PieceName(t.Piece), r.MM(geom.Round(route.Undercut, 2))),
			Because: []plan.Reason{plan.ReasonAt("it travels toward "+english.Direction(route.Toward()), j.Pos)}})
	}
	return list
}

// sizeFindings reports sizes in the kit that differ from those of the meshes.
func (r *explainer) sizeFindings() []plan.Finding {
	g := r.Geometry
	var list []plan.Finding
	for p, pc := range r.Kit.Pieces {
		if !g.Measured[p] || pc.Part.Size == nil {
			continue
		}
		said, found := pc.Part.Size.XYZ, g.Sizes[p]
		off := 0.0
		for k := range 3 {
			off = max(off, math.Abs(said[k]-found[k]))
		}
		if off <= sizeSlack {
			continue
		}
		rounded := geom.Vec(found).Round(1)
		list = append(list, plan.Finding{Kind: plan.Meshes, Grade: plan.Caution, Piece: pc.ID, Pos: pc.Part.Size.Pos,
			Text:    fmt.Sprintf("%s is %s by its mesh, and %s by the kit", pc.ID, r.MM(rounded[:]...), r.MM(said[:]...)),
			Because: []plan.Reason{plan.ReasonAt("size of "+pc.Part.ID, pc.Part.Size.Pos)}})
	}
	return list
}

// sizeSlack is how far, in mm, a size in the kit may be off without a finding.
const sizeSlack = 0.5
