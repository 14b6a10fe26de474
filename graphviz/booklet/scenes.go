package booklet

import (
	"dryfit/graphviz/draw"
	"dryfit/plan"
	"slices"
)

// scene is what the picture of a step shows; nil for a step without one.
func (m *maker) scene(mv plan.Move) *draw.Scene {
	s := m.rules.Steps[mv.Step]
	scene := &draw.Scene{Still: mv.Still}
	switch s.Kind {
	case plan.Fit:
		scene.Onto = s.Join.Onto
	case plan.Close:
		scene.Onto = s.Join.Pieces[:1]
	case plan.Thread:
		w := s.Wire
		scene.Run = append(append([]int{w.From}, w.Through...), w.To)
		scene.Emphasis, scene.Labels = []int{w.From, w.To}, map[int]string{}
		for _, p := range scene.Run {
			scene.Labels[p] = m.numbers.Piece(p)
		}
	default:
		return nil
	}
	for _, x := range mv.Movers {
		scene.Movers = append(scene.Movers, draw.Mover{Pieces: x.Pieces, Way: x.Way, Label: m.numbers.Piece(x.Piece)})
	}
	return m.drawable(scene)
}

func copied(list []int) []int { return append([]int(nil), list...) }

// drawable drops a scene of which nothing that matters has a mesh.
func (m *maker) drawable(s *draw.Scene) *draw.Scene {
	seen := copied(s.Emphasis)
	for _, mv := range s.Movers {
		seen = append(seen, mv.Pieces...)
	}
	if slices.ContainsFunc(seen, m.renderer.Has) {
		return s
	}
	return nil
}
