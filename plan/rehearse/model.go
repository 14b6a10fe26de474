package rehearse

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/disjoint"
	"dryfit/plan"
)

// script is what does not change during a replay.
type script struct {
	kit      *kits.Kit
	geometry *plan.Geometry // nil if nothing was measured
	steps    []plan.Step
	fits     []int         // piece -> the step that fits it, -1 for a base
	earlier  [][]int       // step -> the steps that it is asked to come after, or a coat is
	number   map[any]int   // of the step of a join, a wire or a task
	service  *kits.Service // what is reached, if anything is
	work     int           // done so far, in all replays of the script, in pieces and steps looked at
	record   bool          // keep the model before each action
}

// model is what has been built at some moment.
type model struct {
	*script
	made   []bool         // step -> done
	off    []bool         // step -> undone for a while
	groups *disjoint.Sets // pieces that are joined to each other
}

func newModel(k *kits.Kit, g *plan.Geometry, steps []plan.Step) *model {
	s := &script{kit: k, geometry: g, steps: steps, fits: make([]int, len(k.Pieces)), earlier: make([][]int, len(steps)), number: map[any]int{}}
	for p := range s.fits {
		s.fits[p] = -1
	}
	for v, step := range steps {
		for _, p := range step.Fits() {
			s.fits[p] = v
		}
		switch {
		case step.Join != nil:
			s.number[step.Join] = v
		case step.Wire != nil:
			s.number[step.Wire] = v
		default:
			s.number[step.Task] = v
		}
	}
	s.askOrder()
	s.askCoats()
	return &model{s, make([]bool, len(steps)), make([]bool, len(steps)), disjoint.New(len(k.Pieces))}
}

func (m *model) clone() *model {
	m.work += len(m.fits) + len(m.steps)
	return &model{m.script, slices.Clone(m.made), slices.Clone(m.off), m.groups.Clone()}
}

// stands reports whether a step is done, and not undone at the moment.
func (m *model) stands(step int) bool { return m.made[step] && !m.off[step] }

// make does a step.
func (m *model) make(step int) {
	m.made[step], m.off[step] = true, false
	m.unite(step)
}

// undo undoes a join for a while, whatever it takes.
func (m *model) undo(step int) {
	m.off[step] = true
	m.regroup()
}

// regroup finds the groups anew, from the joins that are made at the moment.
func (m *model) regroup() {
	m.work += len(m.fits) + len(m.steps)
	m.groups = disjoint.New(len(m.fits))
	for v := range m.steps {
		if m.stands(v) {
			m.unite(v)
		}
	}
}

// unite makes one group of what a join ties together.
func (m *model) unite(step int) {
	s := m.steps[step]
	for _, p := range s.Movers() {
		m.groups.Join(p, s.Base())
	}
}

// unit lists the pieces that are in one group with a piece.
func (m *model) unit(piece int) []int {
	var list []int
	group := m.groups.Find(piece)
	for q := range m.fits {
		if m.groups.Find(q) == group {
			list = append(list, q)
		}
	}
	return list
}

// together reports whether pieces are all in one group.
func (m *model) together(pieces []int) bool {
	return !slices.ContainsFunc(pieces, func(p int) bool { return m.groups.Find(p) != m.groups.Find(pieces[0]) })
}
