package rescale

import (
	"dryfit/kits"
	"dryfit/plan/explain"
	"fmt"
	"slices"
	"strings"

	"dryfit/plan"
)

// check checks the kit at the new scale, with what was measured taken at that scale.
// Which piece is in whose way does not change when all grow or shrink alike; that of
// pieces of fixed size is taken to stay.
func check(q Request) (*plan.Project, error) {
	g := q.Was.Constraints.Geometry
	if g == nil {
		return explain.Check(q.Kit)
	}
	now, err := explain.CheckMeasured(q.Kit, scaledGeometry(g, q))
	if err != nil {
		return nil, err
	}
	fixed, err := fixedSize(q.Kit)
	now.Meshes = q.Was.Meshes.Scaled(q.Scaling.Factor, func(id string) bool { return fixed[id] })
	return now, err
}

// fixedSize marks the ids of what keeps its size, tooling and spares too.
func fixedSize(k *kits.Kit) (map[string]bool, error) {
	fixed := map[string]bool{}
	aside, err := k.Aside()
	for _, pc := range slices.Concat(k.Pieces, aside) {
		fixed[pc.ID] = pc.Part.FixedSize
	}
	return fixed, err
}

func scaledGeometry(g *plan.Geometry, q Request) *plan.Geometry {
	f := q.Scaling.Factor
	fixed := func(p int) bool { return q.Kit.Pieces[p].Part.FixedSize }
	out := *g
	out.Sizes = slices.Clone(g.Sizes)
	for p := range out.Sizes {
		if !fixed(p) {
			out.Sizes[p] = times(f, g.Sizes[p])
		}
	}
	out.Clashes, out.Touching = nil, nil
	for _, c := range g.Clashes {
		if !fixed(c.A) && !fixed(c.B) { // the others are seats, which are looked at by themselves
			c.Depth, c.Volume = f*c.Depth, f*f*f*c.Volume
			out.Clashes = append(out.Clashes, c)
		}
	}
	for _, t := range g.Touching {
		if !fixed(t.A) && !fixed(t.B) {
			t.Contact, t.Gap = f*f*t.Contact, f*t.Gap
		}
		out.Touching = append(out.Touching, t)
	}
	out.Legs = map[int][]plan.Legs{}
	for p, ways := range g.Legs {
		for _, w := range ways {
			w.Legs = slices.Clone(w.Legs)
			for i := range w.Legs {
				w.Legs[i].Distance *= f
			}
			out.Legs[p] = append(out.Legs[p], w)
		}
	}
	out.Undercuts = map[int][]plan.Undercut{}
	for p, list := range g.Undercuts {
		for _, u := range list {
			u.Width *= f
			out.Undercuts[p] = append(out.Undercuts[p], u)
		}
	}
	out.Resolution, out.Near = f*g.Resolution, f*g.Near
	out.Hit = func(piece, other, direction int) float64 { return f * g.Hit(piece, other, direction) }
	return &out
}

// kindred are findings that say the same, whatever their numbers.
type kindred struct {
	kind                string
	grade               plan.Grade
	piece, step, others string
}

func kindredOf(f plan.Finding) kindred {
	return kindred{f.Kind, f.Grade, f.Piece, f.Step, strings.Join(f.Pieces, " ")}
}

// orderFindings are those of the check that the kit has only at the new scale. That it
// has others at the present one is told in one.
func (r *Report) orderFindings() []plan.Finding {
	known := map[kindred]bool{}
	count := map[plan.Grade]int{}
	for _, f := range r.Was.Findings {
		known[kindredOf(f)] = true
		count[f.Grade]++
	}
	var list []plan.Finding
	for _, f := range r.Now.Findings {
		// Whether meshes and kit agree is asked at the scale of the meshes.
		if f.Kind != plan.Meshes && f.Kind != plan.Clashes && !known[kindredOf(f)] {
			list = append(list, f)
		}
	}
	if n := len(r.Was.Findings); n > 0 {
		grade := plan.Note
		if count[plan.Fault] > 0 {
			grade = plan.Fault
		}
		list = append(list, finding(Present, grade, fmt.Sprintf("the kit has findings at its present scale already (%d to mend, %d cautions, %d notes); they are not repeated here, see dryfit check", count[plan.Fault], count[plan.Caution], count[plan.Note])))
	}
	return list
}

// Order says whether there is a proven order at the new scale, and whether it is the one
// of before.
func (r *Report) Order() string {
	switch {
	case r.Now.Sequence == nil && r.Was.Sequence == nil:
		return "No order is proven at either scale."
	case r.Now.Sequence == nil:
		return "No order is proven at that scale any more, see the faults."
	case r.Was.Sequence == nil:
		return "There is an order now; at the present scale none is proven."
	case slices.Equal(r.Now.Sequence.Order, r.Was.Sequence.Order):
		return "The order holds, step by step."
	}
	return "There is an order, another than before."
}
