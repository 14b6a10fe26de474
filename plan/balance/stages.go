package balance

import "dryfit/plan"

// Stage is the main build after a step that added to it.
type Stage struct {
	Step   int // in the constraints
	Pieces int // in the main build by then
	Point
}

// stages follows the group of the main build's base through a sequence. Pieces
// not yet joined to it do not count.
func stages(q *plan.Sequence, weights []Weight, along int) []Stage {
	if len(q.Builds) == 0 {
		return nil
	}
	g := newGroups(weights, along)
	base := q.Builds[0].Base
	var list []Stage
	for _, v := range q.Order {
		j := q.Solution.Constraints.Steps[v].Join
		if j == nil {
			continue
		}
		before := g.pieces[g.of(base)]
		for _, p := range j.Pieces {
			g.unite(p, j.Pieces[0])
			for _, o := range j.Onto {
				g.unite(p, o)
			}
		}
		if at := g.of(base); g.pieces[at] > before {
			list = append(list, Stage{v, g.pieces[at], g.point[at]})
		}
	}
	return list
}

// groups are pieces joined so far: a forest in which every piece leads to the
// representative of its group.
type groups struct {
	up     []int
	pieces []int
	point  []Point
}

func newGroups(weights []Weight, along int) *groups {
	g := &groups{}
	for p, w := range weights {
		g.up, g.pieces = append(g.up, p), append(g.pieces, 1)
		g.point = append(g.point, w.point(along))
	}
	return g
}

// point is a piece's mass along an axis; none if its position is not known.
func (w *Weight) point(along int) Point {
	if w.Place == Nowhere {
		return Point{}
	}
	return Point{w.Mass, w.Centre[along]}
}

func (g *groups) of(p int) int {
	for g.up[p] != p {
		g.up[p] = g.up[g.up[p]]
		p = g.up[p]
	}
	return p
}

func (g *groups) unite(p, q int) {
	p, q = g.of(p), g.of(q)
	if p == q {
		return
	}
	if g.pieces[p] < g.pieces[q] {
		p, q = q, p
	}
	g.up[q] = p
	g.pieces[p] += g.pieces[q]
	g.point[p] = g.point[p].With(g.point[q])
}
