package precedence

import (
	"slices"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// Root is a part of a stuck system that waits for nothing outside itself: a
// cause, not a consequence.
type Root struct {
	Steps   []int // ascending
	Trapped []int // those of Steps with an unmet clause; none: the needs form a cycle
}

// Roots splits what is stuck into its causes. A step waits for each step that
// needs it, and for each member of its unmet clauses; the strongly connected
// components that wait for no other component are the roots, sorted by their
// first step. All other stuck steps merely wait behind them.
func (s *System) Roots() []Root {
	p := newPeeling(s)
	p.all()
	stuck := p.remaining()
	if len(stuck) == 0 {
		return nil
	}
	g, alone := s.waits(p, stuck)
	var roots []Root
	for _, comp := range topo.TarjanSCC(g) {
		steps := make([]int, 0, len(comp))
		for _, v := range comp {
			steps = append(steps, int(v.ID()))
		}
		slices.Sort(steps)
		if waitsOutside(g, steps) || len(steps) == 1 && !alone[steps[0]] {
			continue
		}
		roots = append(roots, Root{steps, p.trapped(steps)})
	}
	slices.SortFunc(roots, func(a, b Root) int { return a.Steps[0] - b.Steps[0] })
	return roots
}

// waits is the graph of what waits for what among the stuck steps. alone holds
// the steps that are stuck on their own: with an empty clause, or a need for
// themselves.
func (s *System) waits(p *peeling, stuck []int) (g *simple.DirectedGraph, alone map[int]bool) {
	g, alone = simple.NewDirectedGraph(), map[int]bool{}
	for _, v := range stuck {
		g.AddNode(simple.Node(v))
	}
	edge := func(v, w int32) {
		if v == w {
			alone[int(v)] = true
		} else {
			g.SetEdge(simple.Edge{F: simple.Node(v), T: simple.Node(w)})
		}
	}
	for _, nd := range s.needs {
		if !p.gone[nd.before] && !p.gone[nd.after] {
			edge(nd.before, nd.after)
		}
	}
	for c, cl := range s.clauses {
		if p.met[c] || p.gone[cl.step] {
			continue
		}
		for _, m := range s.members[cl.oneOf.from:cl.oneOf.to] {
			edge(cl.step, m)
		}
		if cl.oneOf.from == cl.oneOf.to {
			alone[int(cl.step)] = true
		}
	}
	return g, alone
}

func waitsOutside(g *simple.DirectedGraph, steps []int) bool {
	for _, v := range steps {
		for to := g.From(int64(v)); to.Next(); {
			if _, in := slices.BinarySearch(steps, int(to.Node().ID())); !in {
				return true
			}
		}
	}
	return false
}

// trapped lists those of the steps that have an unmet clause.
func (p *peeling) trapped(steps []int) []int {
	var list []int
	for _, v := range steps {
		if p.unmet[v] > 0 {
			list = append(list, v)
		}
	}
	return list
}
