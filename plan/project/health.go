package project

import (
	"context"
	"encoding/hex"
	"fmt"
	"runtime"

	"golang.org/x/sync/errgroup"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/health"
	"dryfit/plan"
)

// heavy is the number of triangles from which meshes are examined one after the other: each
// takes about 80 MB of memory per million.
const heavy = 1_000_000

// ExamineWhile finds out the health of all meshes that the cache does not know, beside
// other work, so that no processor is idle.
func (s *Survey) ExamineWhile(ctx context.Context, work func() error) error {
	light, large := s.unexamined()
	s.examined.done, s.examined.of = 0, len(light)+len(large)
	beside, stop := context.WithCancel(ctx)
	defer stop()
	group, within := errgroup.WithContext(beside)
	group.Go(func() error { return s.examine(within, light, runtime.GOMAXPROCS(0)) })
	group.Go(func() error { return s.examine(within, large, 1) })
	err := work()
	if err != nil {
		stop()
	}
	s.examined.telling.Store(true)
	if ill := group.Wait(); err == nil {
		err = ill
	}
	return err
}

// unexamined lists the meshes to examine, the large ones by themselves.
func (s *Survey) unexamined() (light, large []int) {
	s.Health = make([]*mesh.Health, len(s.Pieces))
	for i, m := range s.Pieces {
		switch known := s.known[keyOf(m)]; {
		case m.Len() == 0:
		case known != nil && (known.Walls || !s.options.Walls):
			s.Health[i] = known
		case m.Len() >= heavy:
			large = append(large, i)
		default:
			light = append(light, i)
		}
	}
	return light, large
}

// examine examines some meshes, a limited number at a time.
func (s *Survey) examine(ctx context.Context, which []int, atATime int) error {
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(atATime)
	for _, i := range which {
		group.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			h, err := health.Examine(ctx, s.Pieces[i], health.Options{Walls: s.options.Walls})
			if err != nil {
				return err
			}
			s.health.Lock()
			defer s.health.Unlock()
			s.Health[i], s.known[keyOf(s.Pieces[i])] = h, h
			if s.examined.done++; s.examined.telling.Load() {
				s.options.tell("examining meshes", float64(s.examined.done)/float64(s.examined.of))
			}
			return nil
		})
	}
	return group.Wait()
}

func keyOf(m *mesh.Mesh) string { return hex.EncodeToString(m.Hash[:]) }

// MeshFindings reports meshes in the same place, those that were inside out, and the
// problems of all. Problems that matter only in some cases are left out unless all is set;
// those that spoil measurements or trap liquid resin are always there.
func (s *Survey) MeshFindings(all bool) []plan.Finding {
	list := s.onePlaceFindings()
	for i, m := range s.Pieces {
		if m.Turned {
			list = append(list, plan.NewFinding(plan.Meshes, plan.Caution, s.IDs[i]+" is inside out; it was turned to be measured").
				About(s.IDs[i]).Suggest("flip all its faces in CAD and export it again"))
		}
	}
	for i, h := range s.Health {
		if h == nil {
			continue
		}
		for _, p := range h.Problems {
			if p.Kind == mesh.InsideOut && s.Pieces[i].Turned {
				continue // reported above
			}
			var part *kits.Part
			if s.kit != nil {
				part = s.kit.Pieces[i].Part
			}
			if f, matters := ProblemFinding(s.IDs[i], part, p); all || matters {
				list = append(list, f)
			}
		}
	}
	return list
}

// ProblemFinding words a problem of the mesh of a piece, and says whether it always matters.
// The part is nil without a kit.
func ProblemFinding(id string, part *kits.Part, p mesh.Problem) (f plan.Finding, matters bool) {
	resin := p.Kind == mesh.Hollow && (part == nil || part.Printed == kits.Resin)
	grade := plan.Note
	switch {
	case p.Serious:
		grade = plan.Fault
	case resin || p.Kind == mesh.Bodies:
		grade = plan.Caution
	}
	f = plan.NewFinding(plan.Meshes, grade, fmt.Sprintf("%s: %s, at %s", id, p.Text, english.Position(p.Place))).About(id).Suggest(p.Remedy)
	if part != nil {
		f = f.Since("part "+part.ID, part.Pos)
	}
	return f, p.Serious || resin
}
