package plan

import (
	"slices"

	"dryfit/kits/geom"
)

// Move is what a step does to the model: what stays still, and what travels to
// it. The lists of pieces must not be changed.
type Move struct {
	Step   int
	Still  []int   // the group that the step works on, before the step
	Movers []Mover // empty for a wire or a task
}

// Mover is a piece that travels in a step, with all that is on it by then.
type Mover struct {
	Piece  int
	Pieces []int
	Way    []geom.Leg // legs in travel order; nil if none was measured
}

// Moves follows the sequence from single pieces to the finished model. A task has
// no group.
func (q *Sequence) Moves() []Move {
	r := q.Solution.Constraints
	g := newGrowing(len(r.Kit.Pieces))
	list := make([]Move, 0, len(q.Order))
	for i, v := range q.Order {
		now := g
		if d := q.detours[v]; d != nil {
			now = r.without(q.Order[:i], d.Off)
		}
		list = append(list, r.move(v, now))
		g.do(r.Steps[v])
	}
	return list
}

// without are the groups that some steps make while the joins of others are undone.
func (r *Constraints) without(done, off []int) *growing {
	g := newGrowing(len(r.Kit.Pieces))
	for _, v := range done {
		if !slices.Contains(off, v) {
			g.do(r.Steps[v])
		}
	}
	return g
}

func (r *Constraints) move(v int, g *growing) Move {
	s := r.Steps[v]
	m := Move{Step: v}
	if base := s.Base(); base >= 0 {
		m.Still = g.with(base)
	}
	for _, p := range s.Movers() {
		m.Movers = append(m.Movers, Mover{Piece: p, Pieces: g.with(p), Way: r.wayOf(v, p)})
	}
	return m
}

// wayOf gives the legs along which a piece travels in a step; nil if none were
// measured.
func (r *Constraints) wayOf(step, piece int) []geom.Leg {
	for _, i := range r.PastMeshes(step) {
		if route := r.Route(i); route != nil && r.Access[i].Piece == piece {
			return route.Legs
		}
	}
	return nil
}

// growing tracks which pieces are joined as the build goes on.
type growing struct {
	of      []int   // piece -> its group, named after one of its pieces
	members [][]int // group -> pieces
}

func newGrowing(pieces int) *growing {
	g := &growing{make([]int, pieces), make([][]int, pieces)}
	for i := range pieces {
		g.of[i], g.members[i] = i, []int{i}
	}
	return g
}

// with lists the pieces that are joined to a piece, and itself. The list must not be
// changed: groups only grow at their ends, so it is shared with them, for a list of its own
// for each step takes gigabytes in a large kit.
func (g *growing) with(piece int) []int { return slices.Clip(g.members[g.of[piece]]) }

func (g *growing) join(a, b int) {
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

// do makes the joins of a step.
func (g *growing) do(s Step) {
	for _, p := range s.Pieces() {
		g.join(s.Base(), p)
	}
}
