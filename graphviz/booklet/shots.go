package booklet

import (
	"dryfit/graphviz/draw"
	"dryfit/plan"
)

// shot is what the picture of a step is to show; nil for a step without one.
func (m *maker) shot(mv plan.Move) *draw.Scene {
	s := m.rules.Steps[mv.Step]
	shot := &draw.Scene{Still: mv.Still}
	switch s.Kind {
	case plan.Fit:
		shot.Onto = s.Join.Onto
	case plan.Close:
		shot.Onto = s.Join.Pieces[:1]
	case plan.Thread:
		w := s.Wire
		shot.Run = append(append([]int{w.From}, w.Through...), w.To)
		shot.Emphasis, shot.Labels = []int{w.From, w.To}, map[int]string{}
		for _, p := range shot.Run {
			shot.Labels[p] = m.numbers.Piece(p)
		}
	default:
		return nil
	}
	for _, x := range mv.Movers {
		shot.Movers = append(shot.Movers, draw.Mover{Pieces: x.Pieces, Way: x.Way, Label: m.numbers.Piece(x.Piece)})
	}
	return m.drawable(shot)
}

func copied(list []int) []int { return append([]int(nil), list...) }

// drawable drops a shot of which nothing that matters has a mesh.
func (m *maker) drawable(s *draw.Scene) *draw.Scene {
	seen := copied(s.Emphasis)
	for _, mv := range s.Movers {
		seen = append(seen, mv.Pieces...)
	}
	for _, p := range seen {
		if m.renderer.Has(p) {
			return s
		}
	}
	return nil
}
