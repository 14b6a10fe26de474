package bill

import (
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// lister finds where parts are used.
type lister struct {
	k       *kits.Kit
	q       *plan.Sequence
	meshes  []*mesh.Mesh
	stepOf  map[int]int // piece -> the step that fits it
	firstOf map[int]int // piece -> the number of the first step that has to do with it
	baseOf  map[int]int // piece -> the build that is built up on it
}

func newLister(q *plan.Sequence, meshes []*mesh.Mesh) *lister {
	l := &lister{q.Solution.Constraints.Kit, q, meshes, map[int]int{}, map[int]int{}, map[int]int{}}
	for _, v := range q.Order {
		s := q.Solution.Constraints.Steps[v]
		if s.Join == nil {
			continue
		}
		for _, p := range slices.Concat(s.Join.Onto, s.Join.Pieces) {
			if l.firstOf[p] == 0 {
				l.firstOf[p] = q.Place[v]
			}
		}
		if s.Kind == plan.Fit {
			for _, p := range s.Join.Pieces {
				l.stepOf[p] = v
			}
		}
	}
	for u, b := range q.Builds {
		l.baseOf[b.Base] = u
	}
	return l
}

// steps lists the numbers of the steps in which copies of a part come to the model:
// those that fit them or, for the base of a group, the first that fits something to it.
func (l *lister) steps(p *kits.Part) []int {
	var list []int
	for _, piece := range l.k.Copies(p) {
		n := l.firstOf[piece]
		if v, fitted := l.stepOf[piece]; fitted {
			n = l.q.Place[v]
		}
		if n > 0 && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	slices.Sort(list)
	return list
}

// build is the build that a part is first used in: for the base of a build that one.
func (l *lister) build(p *kits.Part) int {
	best, place := 0, math.MaxInt
	for _, piece := range l.k.Copies(p) {
		if u, is := l.baseOf[piece]; is {
			return u
		}
		if v, ok := l.stepOf[piece]; ok && l.q.Place[v] < place {
			best, place = l.q.BuildOf[v], l.q.Place[v]
		}
	}
	return best
}

// lookAlikes are parts that could be taken for one: printed alike, with nearly the same
// box and nearly the same volume, but not its mirror image. The margins are common
// sense: what differs more is told apart at a glance.
func (l *lister) lookAlikes(p *kits.Part) []*kits.Part {
	a := l.shape(p)
	if a == nil {
		return nil
	}
	var list []*kits.Part
	for _, q := range l.k.Parts {
		if q == p || q == p.Pair || q.Printed != p.Printed {
			continue
		}
		if b := l.shape(q); b != nil && a.Hash != b.Hash && near(a.Volume, b.Volume, 0.1) && alike(sorted(a), sorted(b), 0.05) {
			list = append(list, q)
		}
	}
	return list
}

// shape is the mesh of the first copy of a printed part; nil if there is none.
func (l *lister) shape(p *kits.Part) *mesh.Mesh {
	c := l.k.Copies(p)
	if !IsPrinted(p) || len(c) == 0 || c[0] >= len(l.meshes) || l.meshes[c[0]].Len() == 0 {
		return nil
	}
	return l.meshes[c[0]]
}

func sorted(m *mesh.Mesh) [3]float64 {
	s := m.Size()
	slices.Sort(s[:])
	return s
}

func alike(a, b [3]float64, within float64) bool {
	return near(a[0], b[0], within) && near(a[1], b[1], within) && near(a[2], b[2], within)
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within*math.Max(a, b) }
