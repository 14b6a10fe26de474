package rescale

import (
	"context"
	"slices"

	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/explain"
	"dryfit/plan/hardware"
)

// check checks the kit at the new scale, with the meshes and the measurements taken to that
// scale. What blocks what does not change when all pieces grow or shrink alike; what pieces
// of fixed size block is assumed to stay, and what they touch is measured anew.
func (r *Report) check(ctx context.Context) (*plan.Project, error) {
	meshes := r.Was.Meshes.Scaled(r.Scaling.Factor, func(id string) (geom.Vec, bool) {
		move, keeps := r.moves[id]
		return move, keeps
	})
	var now *plan.Project
	var err error
	if g := r.Was.Constraints.Geometry; g != nil {
		scaled := scaledGeometry(g, r.Request)
		if scaled.Touching, err = r.touching(ctx, scaled.Touching, meshes); err != nil {
			return nil, err
		}
		now, err = explain.CheckMeasured(r.Kit, scaled)
	} else {
		now, err = explain.Check(r.Kit)
	}
	if err != nil {
		return nil, err
	}
	now.Meshes = meshes
	now.Add(hardware.Findings(now)...)
	return now, nil
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
