package rescale

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// check checks the kit at the new scale, with the measurements taken to that scale.
// What blocks what does not change when all pieces grow or shrink alike; what pieces of
// fixed size block is assumed to stay.
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
			out.Sizes[p] = geom.Vec(g.Sizes[p]).Times(f)
		}
	}
	out.Clashes, out.Touching = nil, nil
	for _, c := range g.Clashes {
		if !fixed(c.A) && !fixed(c.B) { // the others are seats, which are examined by themselves
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
