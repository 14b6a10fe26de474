package booklet

import (
	"dryfit/graphviz/draw"
	"dryfit/plan"
)

// groups follows which pieces are joined as the build goes on.
type groups struct {
	of      []int   // piece -> its group, named after one of its pieces
	members [][]int // group -> pieces
}

func newGroups(pieces int) *groups {
	g := &groups{make([]int, pieces), make([][]int, pieces)}
	for i := range pieces {
		g.of[i], g.members[i] = i, []int{i}
	}
	return g
}

// with lists the pieces that are joined to a piece, and itself.
func (g *groups) with(piece int) []int { return g.members[g.of[piece]] }

func (g *groups) join(a, b int) {
	a, b = g.of[a], g.of[b]
	if a == b {
		return
	}
	if len(g.members[a]) < len(g.members[b]) {
		a, b = b, a
	}
	for _, p := range g.members[b] {
		g.of[p] = a
	}
	g.members[a] = append(g.members[a], g.members[b]...)
	g.members[b] = nil
}

// do joins what a step joins.
func (g *groups) do(s plan.Step) {
	if s.Join == nil {
		return
	}
	for _, p := range s.Join.Pieces {
		if s.Kind == plan.Close {
			g.join(s.Join.Pieces[0], p)
		} else {
			g.join(s.Join.Onto[0], p)
		}
	}
}

// shot is what the picture of a step is to show; nil for a step without one.
func (m *maker) shot(v int, g *groups) *draw.Shot {
	s := m.rules.Steps[v]
	switch s.Kind {
	case plan.Fit:
		shot := &draw.Shot{Still: copied(g.with(s.Join.Onto[0])), Onto: s.Join.Onto}
		for _, p := range s.Join.Pieces {
			shot.Movers = append(shot.Movers, m.mover(v, p, g))
		}
		return m.drawable(shot)
	case plan.Close:
		still, p := s.Join.Pieces[0], s.Join.Pieces[1]
		shot := &draw.Shot{Still: copied(g.with(still)), Onto: []int{still}, Movers: []draw.Mover{m.mover(v, p, g)}}
		return m.drawable(shot)
	case plan.Thread:
		w := s.Wire
		run := append(append([]int{w.From}, w.Through...), w.To)
		shot := &draw.Shot{Still: copied(g.with(w.From)), Run: run, Emphasis: []int{w.From, w.To}, Labels: map[int]string{}}
		for _, p := range run {
			shot.Labels[p] = m.numbers.Piece(p)
		}
		return m.drawable(shot)
	}
	return nil
}

func copied(list []int) []int { return append([]int(nil), list...) }

// mover is a piece with all that is on it already, and its proven way.
func (m *maker) mover(step, piece int, g *groups) draw.Mover {
	out := draw.Mover{Pieces: copied(g.with(piece)), Label: m.numbers.Piece(piece)}
	for _, t := range m.rules.TravelsOf(step) {
		if m.rules.Travels[t].Piece != piece {
			continue
		}
		if r := m.rules.Route(t); r != nil {
			for _, l := range r.Legs {
				out.Way = append(out.Way, draw.Leg{Toward: l.Toward, Distance: l.Distance})
			}
		}
	}
	return out
}

// drawable drops a shot of which nothing that matters has a mesh.
func (m *maker) drawable(s *draw.Shot) *draw.Shot {
	seen := s.Emphasis
	for _, mv := range s.Movers {
		seen = append(seen, mv.Pieces...)
	}
	for _, p := range seen {
		if m.studio.Has(p) {
			return s
		}
	}
	return nil
}
