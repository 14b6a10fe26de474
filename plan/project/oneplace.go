package project

import (
	"context"
	"fmt"
	"slices"

	"dryfit/kits/english"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/coincident"
	"dryfit/plan"
)

// setAside finds the pieces that stand in the same place, and returns the meshes to be
// measured: those have none. Each of a thousand copies blocks every other in every
// direction, which says nothing and takes gigabytes to find out.
func (s *Survey) setAside(ctx context.Context) ([]*mesh.Mesh, error) {
	var err error
	if s.onePlace, err = coincident.Find(ctx, s.Pieces); err != nil || len(s.onePlace) == 0 {
		return s.Pieces, err
	}
	apart := slices.Clone(s.Pieces)
	for _, group := range s.onePlace {
		for _, p := range group {
			if apart[p], err = mesh.FromTriangles(s.Pieces[p].Name, nil); err != nil {
				return nil, err
			}
		}
	}
	return apart, nil
}

// Measured reports whether a piece has a mesh, and that was measured.
func (s *Survey) Measured(piece int) bool { return s.Model.Pieces[piece].Len() > 0 }

// maxOnePlace bounds the names in the text of a finding; all of them are in its list.
const maxOnePlace = 6

// onePlaceFindings are the pieces that stand in the same place, one finding a place.
func (s *Survey) onePlaceFindings() []plan.Finding {
	var list []plan.Finding
	for _, group := range s.onePlace {
		var ids []string
		for _, p := range group {
			ids = append(ids, s.IDs[p])
		}
		text := fmt.Sprintf("%d pieces stand in the same place; were they exported at the origin? The rest was measured without them: %s",
			len(ids), english.And(ids, maxOnePlace))
		list = append(list, plan.NewFinding(plan.OnePlace, plan.Fault, text).About(ids...).
			Suggest("export every part where it stands in the finished model, not each about its own origin"))
	}
	return list
}
