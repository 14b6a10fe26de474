package printing

import (
	"context"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/bitset"
	"dryfit/plan/printing/seen"
)

// lookedFrom is from how many directions the finished model is looked at.
const lookedFrom = 32

// faceAngle is how far, in degrees, the visible faces of a part whose face the kit
// states may be turned from it (ours).
const faceAngle = 60.0

// See finds the visible faces of the parts: those that the kit states, or those that
// are seen from outside on the finished model, through clear parts as well. Parts
// that are no part of the model have none. Of several copies the first with a mesh is
// looked at. The error is one of reading a mesh or of the context.
func (r *Request) See(ctx context.Context, p *plan.Project) error {
	sets, err := r.seenOn(ctx, p)
	if err != nil {
		return err
	}
	for _, part := range r.Parts {
		set := bitset.Set(nil)
		if part.planned != "" && part.Of.InModel() && sets != nil {
			set = sets[p.Kit.PiecesNamed(part.planned)[0]]
		}
		if part.Of.Face != nil {
			if set, err = facingSet(ctx, part.Surface, part.Of.Face.Unit()); err != nil {
				return err
			}
		}
		if set != nil {
			part.Seen, part.seenHash = set.Has, hashOf(set)
		}
	}
	return nil
}

// seenOn lists for each piece of the model the triangles that are seen, as known or by
// looking.
func (r *Request) seenOn(ctx context.Context, p *plan.Project) ([]bitset.Set, error) {
	if p.Meshes == nil {
		return nil, nil
	}
	pieces := make([]seen.Piece, len(p.Kit.Pieces))
	d := mesh.NewDigest("seen-1")
	for i, piece := range p.Kit.Pieces {
		if m := p.Meshes.Mesh(piece.ID); m != nil {
			pieces[i] = seen.Piece{Mesh: m, Clear: piece.Part.Paint == kits.PaintMasked}
			d.Write(m.Hash[:])
		}
		if d.Text(piece.Part.Paint); pieces[i].Clear {
			d.Text("clear")
		}
	}
	key := d.Sum().String()
	if sets := r.Known.seen(key, pieces); sets != nil {
		return sets, nil
	}
	var views []seen.View
	for _, up := range directions(lookedFrom) {
		views = append(views, seen.View(standing(up.Opposite())))
	}
	sets, err := seen.Faces(ctx, pieces, views)
	if r.unseen = err == nil && sets == nil; err == nil && sets != nil {
		r.Known.see(key, sets)
	}
	return sets, err
}

// facingSet is the triangles of a surface that face a direction to within faceAngle.
func facingSet(ctx context.Context, s Surface, d geom.Vec) (bitset.Set, error) {
	var set bitset.Set
	err := s.Blocks(func(first int, block []mesh.Triangle) error {
		for len(set)*64 < first+len(block) {
			set = append(set, 0)
		}
		for i := range block {
			a, b, c := geom.Point(block[i][0]), geom.Point(block[i][1]), geom.Point(block[i][2])
			if n := b.Minus(a).Cross(c.Minus(a)); n.Dot(d) > cosine(faceAngle)*n.Length() {
				set.Add(first + i)
			}
		}
		return ctx.Err()
	})
	return set, err
}

func hashOf(set bitset.Set) mesh.Hash {
	d := mesh.NewDigest("set")
	for _, w := range set {
		d.Number(w)
	}
	return d.Sum()
}
