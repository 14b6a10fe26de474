package rescale

import (
	"context"
	"slices"

	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/blocking"
)

// touching are the touches at the new scale. What pieces of fixed size touch of what they are
// fitted to, or of what is fitted to them, is measured anew: the one stays as it is while
// the other scales.
func (r *Report) touching(ctx context.Context, was []plan.Touch, now *mesh.Collection) ([]plan.Touch, error) {
	if r.Scaling.Factor == 1 {
		return was, nil
	}
	pieces := r.besideFixed(now)
	pitch := r.Was.Constraints.Geometry.Resolution / blocking.Found * r.Scaling.Factor
	model, err := blocking.Measure(ctx, pieces, blocking.Settings{Pitch: pitch})
	if err != nil {
		return nil, err
	}
	again := func(t plan.Touch) bool {
		return (!r.scales(t.A) || !r.scales(t.B)) && pieces[t.A].Len() > 0 && pieces[t.B].Len() > 0
	}
	list := slices.DeleteFunc(slices.Clone(was), again)
	for _, p := range model.Pairs {
		t := plan.Touch{A: p.A, B: p.B, Contact: p.Contact, Gap: p.Gap}
		if p.Depth > 0 {
			t.Contact = max(t.Contact, 1) // one that is too large is more than near
		}
		if again(t) {
			list = append(list, t)
		}
	}
	return list, nil
}

// besideFixed are the meshes of pieces of fixed size and of those that joins put them
// together with, at the new scale; the others are empty.
func (r *Report) besideFixed(now *mesh.Collection) []*mesh.Mesh {
	none, _ := mesh.FromTriangles("", nil)
	list := make([]*mesh.Mesh, len(r.Kit.Pieces))
	for i := range list {
		list[i] = none
	}
	for _, j := range r.Kit.Joins {
		all := slices.Concat(j.Pieces, j.Onto)
		if !slices.ContainsFunc(all, func(p int) bool { return !r.scales(p) }) {
			continue
		}
		for _, p := range all {
			if m := now.Mesh(r.Kit.Pieces[p].ID); m != nil {
				list[p] = m
			}
		}
	}
	return list
}
